import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { TakeCheck } from "@frontpace/take";
import { Command } from "commander";
import { describe, expect, it } from "vitest";
import { dryTake, writeStill } from "../../take/test/render-dry-take.js";
import { temporaryFolder } from "../../take/test/render-take.js";
import { addCheckCommand } from "../src/check/check-command.js";
import { checkOptionKeys, checkOptions } from "../src/check/check-options.js";
import { describeCheck } from "../src/check/describe-check.js";
import { runCaptured } from "./capture.js";

const grid = fileURLToPath(new URL("../../../fixtures/printed-grid/grid.png", import.meta.url));

describe("checkOptions", () => {
  it("reads every option of the command", () => {
    const texts = {
      rate: "100k+-5",
      exposure: "1us",
      path: "1,2:90,2",
      width: "15",
      frames: "0..99",
      every: "2",
      transfer: "srgb",
      skipBad: true,
      raw: "120x32:u8",
      clock: "1kHz+-0.001%",
      lamp: "0,0:5,31",
    };
    const options = checkOptions(texts);
    expect(options).toMatchObject({
      clockHz: 1000,
      lamp: [
        [0, 0],
        [5, 31],
      ],
      exposureSeconds: 1e-6,
      rateHz: 1e5,
    });
    expect(Math.abs(options.clockUncertaintyHz! / 0.01 - 1)).toBeLessThan(1e-12);
    expect(Object.keys(checkOptionKeys).sort()).toEqual(Object.keys(texts).sort());
    expect(Object.values(checkOptionKeys).flat().sort()).toEqual(Object.keys(options).sort());
    const program = new Command();
    addCheckCommand(program, async () => {});
    const offered = program.commands[0].options.map((option) => option.attributeName());
    expect(offered.sort()).toEqual([...Object.keys(texts), "quiet", "json", "out"].sort());
  });

  it.each<[string, Parameters<typeof checkOptions>[0], string]>([
    ["a clock without a unit", { clock: "50" }, "the unit is missing"],
    ["a clock of no frequency", { clock: "0Hz" }, "the value must be > 0"],
    ["a lamp that is a point", { lamp: "3,4" }, "--lamp must be two opposite corners"],
    ["a lamp between pixels", { lamp: "3.5,4:9,9" }, "--lamp must be two opposite corners"],
  ])("names %s", (_, texts, words) => {
    expect(() => checkOptions(texts)).toThrow(
      expect.objectContaining({ code: "invalid-option", message: expect.stringContaining(words) }),
    );
  });
});

describe("describeCheck", () => {
  it("puts each line with its advice under each other, and the rate that measure takes", () => {
    const check = {
      passed: false,
      take: { name: "dry", frames: 60, columns: 120, rows: 32, bitDepth: 8 },
      lines: [
        { check: "focus", verdict: "warn", message: "edge blur 3 px", advice: "focus", values: {} },
        { check: "drift", verdict: "not-checked", message: "no texture", advice: null, values: {} },
      ],
    } as unknown as TakeCheck;
    expect(describeCheck(check, "100000.2+-0.4", ["out/check.json"])).toEqual([
      "checked: dry, 60 frames of 120 x 32 px, 8 bit",
      "WARN  focus     edge blur 3 px",
      "                -> focus",
      "-     drift     no texture",
      "1 of 2 lines warn",
      "use it: frontpace measure TAKE --rate 100000.2+-0.4",
      "",
      "written:",
      "  out/check.json",
    ]);
  });
});

describe("frontpace check", async () => {
  const root = await temporaryFolder();
  const sharp = await writeStill(join(root, "sharp.png"), dryTake({ frames: 1 }));
  const soft = await writeStill(join(root, "soft.png"), dryTake({ frames: 1, blur: 3 }));
  const path = ["--path", "2,16:117,16", "--width", "15"];

  it("exits 0 where no line warns, keeps the still beside check.json, and ends with the cautions", async () => {
    const out = join(root, "kept");
    const { code, stdout } = await runCaptured(["check", sharp, ...path, "--out", out]);
    expect(code).toBe(0);
    // 1.24 px with the integrating pixel and the slant, to 0.05 px in one still
    expect(stdout).toMatch(/pass {2}focus {5}edge blur 1\.[123]/);
    expect(stdout).toContain("no line warns; not told: light, frames, drift");
    expect(stdout).toContain("a capacitor kills after the supply is off");
    expect((await readdir(out)).sort()).toEqual(["check.json", "reference.png"]);
    expect((await readFile(join(out, "reference.png"))).equals(await readFile(sharp))).toBe(true);
  });

  it("exits 3 where one does, with what to change; --quiet silences the screen, not the file", async () => {
    const out = join(root, "soft");
    const { code, stdout } = await runCaptured(["check", soft, ...path, "--out", out, "--quiet"]);
    expect(code).toBe(3);
    expect(stdout).toMatch(/WARN {2}focus {5}edge blur [23]\./);
    expect(stdout).toContain("-> focus on the plane");
    expect(stdout).not.toContain("cautions");
    const { cautions, passed } = JSON.parse(await readFile(join(out, "check.json"), "utf8"));
    expect(cautions.length).toBeGreaterThan(5);
    expect(passed).toBe(false);
  });

  it("puts the files beside the take where no folder is named, and prints check.json alone with --json", async () => {
    const { stdout } = await runCaptured(["check", sharp, ...path, "--json"]);
    expect(stdout).toBe(await readFile(join(root, "sharp-frontpace", "check.json"), "utf8"));
    expect(JSON.parse(stdout)).toMatchObject({
      format: "frontpace-check",
      reference: { file: "reference.png" },
    });
  });

  it("finds the edges of a printed grid by itself", async () => {
    const { code, stdout } = await runCaptured(["check", grid, "--quiet", "--out", join(root, "grid")]);
    expect(code).toBe(0);
    expect(stdout).toMatch(/pass {2}focus {5}edge blur 0\.9\d/);
  });

  it("prints the measured rate as measure takes it", async () => {
    const folder = join(root, "clock");
    const frames = 80;
    const take = dryTake({ frames, lamp: (n) => (Math.floor(n * 0.1013 * 2) % 2 === 0 ? 60 : 0) });
    await mkdir(folder);
    for (let n = 0; n < frames; n++)
      await writeStill(join(folder, `f${String(n).padStart(3, "0")}.png`), take, n);
    const { stdout } = await runCaptured([
      ...["check", folder, "--rate", "1000", "--clock", "101.3Hz+-0.01%", "--lamp", "0,0:5,31"],
      ...["--out", join(root, "clocked"), "--quiet"],
    ]);
    const rate = /--rate (\S+)\+-(\S+)/.exec(stdout)!;
    expect(Math.abs(Number(rate[1]) - 1000)).toBeLessThan(3 * Number(rate[2]));
    expect(checkOptions({ rate: `${rate[1]}+-${rate[2]}` })).toMatchObject({ rateHz: Number(rate[1]) });
  });

  it.each<[string, readonly string[], string, string]>([
    ["a still that is not there", ["none.png"], "unreadable-frame", "none.png could not be read"],
    ["a take that is not there", ["none"], "not-a-folder", "none does not exist"],
    ["a plan that is not there", [sharp, "none.json"], "file-unreadable", "none.json"],
    ["a clock without a rate", [sharp, "--clock", "50Hz"], "rate-missing", "add --rate"],
    ["a path outside the picture", [sharp, "--path", "0,0:900,0"], "path-outside", "--path must lie inside"],
    ["an unknown option", [sharp, "--clok", "50Hz"], "unknown-option", "--clok"],
  ])("exits 2 on %s, without a file", async (_, args, code, words) => {
    const out = join(root, "never");
    const human = await runCaptured(["check", ...args, "--out", out]);
    expect(human).toMatchObject({ code: 2, stdout: "" });
    expect(human.stderr).toContain(words);
    const machine = await runCaptured(["check", ...args, "--out", out, "--json"]);
    expect(JSON.parse(machine.stdout).error).toEqual({ code, message: expect.stringContaining(words) });
    await expect(readdir(out)).rejects.toMatchObject({ code: "ENOENT" });
  });

  it("exits 2 on a file that is no plan", async () => {
    const file = join(root, "no-plan.json");
    await writeFile(file, "{}");
    const { code, stderr } = await runCaptured(["check", sharp, file, "--out", join(root, "never")]);
    expect(code).toBe(2);
    expect(stderr).toContain("no-plan.json is not a plan but an empty object");
  });

  it("shows an example in its help", async () => {
    const { code, stdout } = await runCaptured(["check", "--help"]);
    expect(code).toBe(0);
    expect(stdout).toContain("frontpace check dry-run plan.json --rate 100k");
  });
});
