import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { checkScale } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import { temporaryFolder } from "../../take/test/render-take.js";
import { calibrateOptions } from "../src/calibrate/calibrate-options.js";
import { runCaptured } from "./capture.js";

const grid = fileURLToPath(new URL("../../../fixtures/printed-grid/grid.png", import.meta.url));

describe("calibrateOptions", () => {
  const lengths = { length: ["300mm+-0.1mm"], between: ["112.5,40:1180,52"] };

  it("reads lengths with their points, and what stands besides", () => {
    const options = calibrateOptions({
      ...lengths,
      pointing: "0.3px",
      sensorOffset: "0,364",
      binning: "2",
      distance: "600mm+-5mm",
      depthOffset: "-20mm+-1mm",
      window: "10mm,1.52",
      medium: "water,80mm",
    });
    expect(options).toMatchObject({
      standard: {
        kind: "lengths",
        lengths: [
          {
            between: [
              [112.5, 40],
              [1180, 52],
            ],
          },
        ],
      },
      pointingPixels: 0.3,
      sensorOffset: [0, 364],
      binning: 2,
      medium: "water",
      depth: {
        depthOffset: { value: -0.02 },
        plates: [{ thickness: { value: 0.01 } }, { index: { value: 1.333 } }],
      },
    });
    expect(options.depth?.distance?.standardUncertainty).toBeCloseTo(0.005, 12);
  });

  it("reads points of a plane, grids, and an event in the plane of the standard", () => {
    const plane = calibrateOptions({ point: ["12,40:0mm,-150mm"], pointsUncertainty: "0.1%" });
    expect(plane.standard).toEqual({
      kind: "points",
      points: [{ pixel: [12, 40], plane: [0, -0.15] }],
      relativeStandardUncertainty: 0.001,
    });
    const board = calibrateOptions({ corners: "9x6", square: "10mm+-0.01mm", lens: true });
    expect(board).toMatchObject({
      lens: true,
      standard: { pattern: { kind: "corners", along: 9, across: 6, pitchMetres: 0.01 } },
    });
    const dots = calibrateOptions({ dots: "7x5", pitch: "12mm", distance: "1m", depthOffset: "0mm+-2mm" });
    expect(dots).toMatchObject({
      standard: { pattern: { kind: "dots", along: 7, across: 5 } },
      depth: { depthOffset: { value: 0, standardUncertainty: 0.002 } },
    });
    expect(calibrateOptions({ ...lengths, medium: "water" })).not.toHaveProperty("depth");
  });

  it.each<[string, Parameters<typeof calibrateOptions>[0], string]>([
    ["nothing of known size", {}, "give one of --length with --between"],
    ["two kinds of standard", { ...lengths, dots: "7x5", pitch: "1mm" }, "are both given"],
    ["a length without its points", { length: ["1m"] }, "go together, one pair for each length: got 1 and 0"],
    ["a length without a unit", { length: ["300"], between: ["1,2:3,4"] }, "the unit is missing"],
    ["points that are none", { length: ["1m"], between: ["1,2"] }, "--between must be two points"],
    ["a grid without its pitch", { corners: "9x6" }, "--square is missing"],
    ["a grid of no size", { corners: "9by6", square: "1mm" }, 'got "9by6"'],
    ["a point without its place", { point: ["1,2"] }, "--point must be a point in the picture and its place"],
    ["a part that is no part", { point: ["1,2:1m,2m"], pointsUncertainty: "0.1" }, "a part in percent"],
    [
      "a window without its index",
      { ...lengths, window: "10mm", distance: "1m" },
      "--window must be a thickness and an index",
    ],
    ["a depth without a distance", { ...lengths, depthOffset: "1mm" }, "need --distance"],
    ["a negative pointing", { ...lengths, pointing: "-1" }, "--pointing must be a number >= 0"],
    [
      "a medium thinner than nothing",
      { ...lengths, medium: "0.5" },
      "--medium must be air, water or an index of refraction",
    ],
    [
      "a square less sure than large",
      { corners: "9x6", square: "10mm+-20mm" },
      "the uncertainty is larger than the value",
    ],
    [
      "an uncertainty of points without points",
      { ...lengths, pointsUncertainty: "1%" },
      "--points-uncertainty would change nothing",
    ],
    [
      "a pointing of a grid",
      { corners: "9x6", square: "1mm", pointing: "1" },
      "--pointing would change nothing",
    ],
    ["a distance alone", { ...lengths, distance: "1m" }, "--distance would change nothing"],
    ["a binning below one", { ...lengths, binning: "0.5" }, "--binning must be a number >= 1"],
  ])("refuses %s", (_, texts, words) => {
    expect(() => calibrateOptions(texts)).toThrow(
      expect.objectContaining({ code: "invalid-option", message: expect.stringContaining(words) }),
    );
  });
});

describe("frontpace calibrate", async () => {
  const root = await temporaryFolder();
  const board = ["--corners", "9x6", "--square", "10mm+-0.005mm"];

  it("writes scale.json and a picture, prints the scale, its budget, how to use it, and the cautions", async () => {
    const out = join(root, "made");
    const { code, stdout } = await runCaptured(["calibrate", grid, ...board, "--out", out]);
    expect(code).toBe(0);
    expect((await readdir(out)).sort()).toEqual(["points.png", "scale.json"]);
    const scale = await checkScale(JSON.parse(await readFile(join(out, "scale.json"), "utf8")));
    expect(scale.madeFrom).toMatchObject({ method: "corners", stills: ["grid.png"] });
    expect(stdout).toMatch(/^read: grid\.png, 384 x 256 px\ncheckerboard found: /);
    expect(stdout).toMatch(/scale: 0\.435\d+ mm \+- 0\.000\d+ mm a pixel \(k = 1\)/);
    expect(stdout).toContain("length standard");
    expect(stdout).toContain("measure TAKE --calibration");
    expect(stdout).toContain("a capacitor kills after the supply is off");
  });

  it("says that a figure of the window lacks its uncertainty, where all else has one, and none where it has it", async () => {
    const told = async (window: string) => {
      const depth = ["--distance", "600mm+-5mm", "--window", window];
      const argv = ["calibrate", grid, "--corners", "9x6", "--square", "10mm+-0.005mm", ...depth, "--quiet"];
      return (await runCaptured([...argv, "--out", join(root, "window")])).stdout;
    };
    expect(await told("10mm+-0.1mm,1.52")).toMatch(
      /^scale: .*\(not stated: \+- of .* a figure of the window/m,
    );
    expect(await told("10mm+-0.1mm,1.52+-0.01")).toMatch(/^scale: \S+ mm \+- \S+ mm a pixel \(k = 1\)/m);
  });

  it("keeps the cautions off the screen with --quiet, and prints scale.json alone with --json", async () => {
    const quiet = await runCaptured(["calibrate", grid, ...board, "--out", join(root, "quiet"), "--quiet"]);
    expect(quiet.stdout).not.toContain("cautions");
    const file = JSON.parse(await readFile(join(root, "quiet", "scale.json"), "utf8"));
    expect(file.cautions).toContain("Explosives by licensed people only.");
    const json = await runCaptured(["calibrate", grid, ...board, "--out", join(root, "json"), "--json"]);
    expect(json.stdout).toBe(await readFile(join(root, "json", "scale.json"), "utf8"));
  });

  it.each<[string, readonly string[], string, string]>([
    [
      "another count than is printed",
      ["--corners", "8x6", "--square", "10mm"],
      "wrong-count",
      "grid.png: 54 corners in 9 x 6 are seen",
    ],
    [
      "dots where there is a checkerboard",
      ["--dots", "7x5", "--pitch", "12mm"],
      "wrong-count",
      "is seen where 7 x 5 dots were asked for: give --corners 9x6",
    ],
    [
      "the count of one grid with the step of another",
      ["--corners", "9x6", "--pitch", "10mm"],
      "invalid-option",
      "--corners goes with --square",
    ],
    [
      "the step of one grid with the count of another",
      ["--dots", "7x5", "--square", "10mm"],
      "invalid-option",
      "--dots goes with --pitch",
    ],
    [
      "three points",
      ["--point", "1,2:1m,2m", "--point", "9,2:2m,2m", "--point", "9,9:2m,3m"],
      "too-few-points",
      "at least 4 points, got 3",
    ],
    [
      "a unit that is missing",
      ["--length", "300", "--between", "1,2:300,4"],
      "invalid-option",
      "the unit is missing",
    ],
  ])("exits 2 on %s, without a number and without a file", async (_, options, code, words) => {
    const out = join(root, "never");
    const human = await runCaptured(["calibrate", grid, ...options, "--out", out]);
    expect(human).toMatchObject({ code: 2, stdout: "" });
    expect(human.stderr).toContain(words);
    const machine = await runCaptured(["calibrate", grid, ...options, "--out", out, "--json"]);
    expect(JSON.parse(machine.stdout).error).toEqual({ code, message: expect.stringContaining(words) });
    await expect(readdir(out)).rejects.toMatchObject({ code: "ENOENT" });
  });

  it("names a still that is not there, and an empty --out", async () => {
    const absent = await runCaptured(["calibrate", join(root, "none.png"), ...board]);
    expect(absent).toMatchObject({ code: 2, stdout: "" });
    expect(absent.stderr).toMatch(
      /the still .*none\.png cannot be read \(it does not exist\): name a picture/,
    );
    const folder = await runCaptured(["calibrate", root, ...board]);
    expect(folder).toMatchObject({ code: 2, stdout: "" });
    expect(folder.stderr).toContain("(it is a folder)");
    expect((await runCaptured(["calibrate", grid, ...board, "--out", ""])).stderr).toContain(
      "--out must name a folder",
    );
  });

  it("shows an example in its help", async () => {
    const { code, stdout } = await runCaptured(["calibrate", "--help"]);
    expect(code).toBe(0);
    expect(stdout).toContain("frontpace calibrate grid.png --corners 9x6 --square 10mm+-0.005mm");
  });
});
