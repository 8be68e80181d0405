import { cp, mkdir, readdir, stat, truncate, writeFile } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { handTiff } from "../../frame-loader/test/support/handTiff.js";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { run } from "../src/run.js";
import { runCaptured } from "./capture.js";

const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0.5%"];

describe("bad input", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "tile"), { numbers: range(0, 20), pixelsPerFrame: 3 });
  await mkdir(join(root, "empty"));
  await writeFile(join(root, "a-file"), "kept");

  /** The same failure without and with --json: exit 2, one clear message, no number, nothing written. */
  async function fails(argv: readonly string[], code: string, words: string) {
    const before = (await readdir(root)).sort();
    const human = await runCaptured(argv);
    expect(human).toMatchObject({ code: 2, stdout: "" });
    expect(human.stderr).toMatch(/^error: /);
    expect(human.stderr).toContain(words);

    const machine = await runCaptured([...argv, "--json"]);
    expect(machine).toMatchObject({ code: 2, stderr: "" });
    const printed = JSON.parse(machine.stdout);
    expect(Object.keys(printed)).toEqual(["error"]);
    expect(printed.error).toEqual({ code, message: expect.stringContaining(words) });
    expect((await readdir(root)).sort()).toEqual(before);
  }

  it("no frames", () => fails(["measure", join(root, "empty"), ...known], "no-frames", "empty"));

  it("a batch of a file, or of nothing that is there", async () => {
    const file = join(root, "a-file");
    await fails(["batch", file, ...known], "not-a-folder", `is a file: give the folder that holds the takes`);
    await fails(
      ["batch", `${file}s`, ...known],
      "not-a-folder",
      "does not exist: give the folder that holds the takes",
    );
  });

  it("no such folder", () =>
    fails(["measure", join(root, "none"), ...known], "not-a-folder", "does not exist"));

  it.each(["abc", "0", "-800k", "Infinity", "1e999", "800kk"])("--rate %s", (rate) =>
    fails(["measure", take, "--rate", rate, "--scale", "1mm"], "invalid-option", `got "${rate}"`),
  );

  it.each(["abc", "0mm", "-0.2mm", "infmm", "1e999m", "0.2"])("--scale %s", (scale) =>
    fails(["measure", take, "--rate", "1k", "--scale", scale], "invalid-option", `got "${scale}"`),
  );

  it("no rate", () => fails(["measure", take, "--scale", "1mm"], "rate-missing", "add --rate"));

  it("no scale", () => fails(["measure", take, "--rate", "1k"], "scale-missing", "add --scale"));

  it("floating-point samples of which one is no number, wherever it stands, with and without a path", async () => {
    const pixels = 48 * 160;
    const isBehind = (k: number) => k % 160 < 20 + (2 * k) / pixels;
    const samples = Float32Array.from({ length: 40 * pixels }, (_, k) => (isBehind(k) ? 100 : 10) + (k % 7));
    samples[9 * pixels + 3 * 160 + 5] = Number.NaN;
    const file = join(root, "masked.bin");
    await writeFile(file, samples);
    const argv = ["measure", file, ...known, "--raw", "160x48:f32le"];
    const words = "frame 9 must hold finite samples";
    await fails(argv, "samples-not-finite", words);
    await fails([...argv, "--path", "0,3:159,3"], "samples-not-finite", words);
  });

  it("a path outside the picture", () =>
    fails(
      ["measure", take, ...known, "--path", "0,5:96,5"],
      "path-outside",
      "--path must lie inside the picture",
    ));

  it("a path of zero length", () =>
    fails(
      ["measure", take, ...known, "--path", "7,5:7,5"],
      "path-empty",
      "--path must be at least 1 px long",
    ));

  it("a width beyond the picture", () =>
    fails(
      ["measure", take, ...known, "--width", "97"],
      "width-outside",
      "--width must be at most the 96 columns",
    ));

  it("a cell larger than the picture", () =>
    fails(
      ["measure", take, ...known, "--cell", "500"],
      "cell-outside",
      "--cell must be at most the 16 px of the shorter side of the picture, got 500. Give a smaller one",
    ));

  it("a frame range outside the take", () =>
    fails(
      ["measure", take, ...known, "--frames", "-1..9"],
      "frames-outside",
      "--frames: firstFrame must lie in the take",
    ));

  it("an exposure longer than the interval", () =>
    fails(["measure", take, ...known, "--exposure", "11us"], "exposure-too-long", "--exposure: "));

  it("a light pulse longer than the exposure", () =>
    fails(
      ["measure", take, ...known, "--exposure", "1us", "--light-pulse", "2us"],
      "light-pulse-too-long",
      "--light-pulse: lightPulseSeconds must not be longer than exposureSeconds (0.000001), got 0.000002",
    ));

  it.each(["gamma", "2.2", "SRGB", ""])("--transfer %j", (curve) =>
    fails(["measure", take, ...known, "--transfer", curve], "invalid-option", `got "${curve}"`),
  );

  it.each(["linear", "Auto", ""])("--model %j", (model) =>
    fails(
      ["measure", take, ...known, "--model", model],
      "invalid-value",
      '--model must be one of "auto", "constant"',
    ),
  );

  describe("a folder of stills", async () => {
    const grey = (size: number, value = 7) =>
      sharp(new Uint8Array(size * size).fill(value), { raw: { width: size, height: size, channels: 1 } })
        .toColourspace("b-w")
        .png()
        .toBuffer();
    const notNumbers = handTiff({
      columns: 40,
      rows: 8,
      bits: 32,
      sampleFormat: 3,
      strip: new Uint8Array(4 * 40 * 8).fill(0xff),
    });
    it.each([
      [
        "of two sizes",
        { "t1.png": await grey(8), "t2.png": await grey(9) },
        "mixed-frames",
        "t2.png is 9 x 9",
      ],
      [
        "with a number twice",
        { "t1.png": await grey(8), "t01.png": await grey(8) },
        "repeated-number",
        "t1.png",
      ],
      ["without numbers", { "a.png": await grey(8) }, "no-frames", "has a number in its name"],
      [
        "of two sequences",
        { "a1.png": await grey(8), "b1.png": await grey(8) },
        "ambiguous-sequence",
        "a1.png",
      ],
      ["that is text", { "t1.png": Buffer.from("no pixels") }, "corrupt-frame", "t1.png is not a PNG"],
      [
        "without finite samples",
        { "t1.tif": notNumbers, "t2.tif": notNumbers },
        "samples-not-finite",
        "frame 1 ",
      ],
      [
        "beside a take.json cut short",
        { "t1.png": await grey(8), "take.json": "{" },
        "take-file-not-json",
        "not valid JSON",
      ],
      [
        "beside a take.json of a later version",
        { "t1.png": await grey(8), "take.json": '{"format":"frontpace-take","version":2}' },
        "invalid-value",
        "version must be 1",
      ],
    ])("%s", async (name, files, code, words) => {
      const folder = join(root, name);
      await mkdir(folder);
      for (const [file, content] of Object.entries(files)) await writeFile(join(folder, file), content);
      await fails(["measure", folder, ...known], code, words);
    });

    it("that holds floating point, with a curve", async () => {
      const folder = join(root, "floating");
      await mkdir(folder);
      await writeFile(join(folder, "t1.tif"), notNumbers);
      const argv = ["measure", folder, ...known, "--transfer", "srgb"];
      await fails(argv, "unsupported-transfer", "t1.tif holds floating-point samples");
    });
  });

  describe("damaged stills", async () => {
    const damaged = async (name: string, bad: readonly number[]) => {
      const folder = await renderTake(join(root, name), { numbers: range(0, 5), pixelsPerFrame: 3 });
      for (const number of bad) await truncate(join(folder, `000${number}.png`), number % 2 === 0 ? 0 : 700);
      return folder;
    };
    const one = await damaged("one-bad", [3]);
    const most = await damaged("most-bad", [0, 1, 2, 3]);
    const all = await damaged("all-bad", [0, 1, 2, 3, 4, 5]);

    it("stop the measurement", () =>
      fails(["measure", one, ...known], "corrupt-frame", "0003.png is damaged"));

    it("stop it with a word of what leaves them out", () =>
      fails(["measure", one, ...known], "corrupt-frame", "--skip-bad leaves damaged stills out"));

    it("stop it where more than half are to be skipped", () =>
      fails(
        ["measure", most, ...known, "--skip-bad"],
        "too-many-bad-frames",
        "4 of 6 stills are damaged or cannot be read (0000.png is empty (0 bytes), 0001.png is damaged",
      ));

    it("stop it where all are to be skipped", () =>
      fails(["measure", all, ...known, "--skip-bad"], "too-many-bad-frames", "all 6 stills are damaged"));
  });

  it.each([
    [
      { rateHertz: 1e5 },
      "unknown-key",
      'take.json: unknown key "rateHertz"; the nearest known key is "rateHz"',
    ],
    [{ brightness: 1 }, "unknown-key", 'take.json: unknown key "brightness"; no known key is near it'],
    [{ skipBad: "yes" }, "invalid-value", "take.json: skipBad must be true or false: whether damaged"],
    [{ transfer: "sRGB" }, "invalid-value", 'take.json: transfer must be "linear", "srgb" or "bt709"'],
    [{ lightPulseSeconds: 0 }, "invalid-value", "take.json: lightPulseSeconds must be a finite number > 0"],
    [{ lightPulseSeconds: 1e-3 }, "light-pulse-too-long", "lightPulseSeconds must not be longer than"],
    [{ rateHz: "100k" }, "invalid-value", "take.json: rateHz must be a finite number > 0"],
    [{ firstFrame: 99 }, "frames-outside", "firstFrame must lie in the take"],
  ])("take.json with %j", async (keys, code, words) => {
    const folder = await renderTake(join(root, "noted"), { numbers: range(0, 3), pixelsPerFrame: 3 });
    const file = { format: "frontpace-take", version: 1, ...keys };
    await writeFile(join(folder, "take.json"), JSON.stringify(file));
    await fails(["measure", folder, ...known], code, words);
  });

  it("an empty output folder", () =>
    fails(["measure", take, ...known, "--out", ""], "invalid-option", "--out must name a folder"));

  it("an empty take", () => fails(["measure", "", ...known], "invalid-option", "the take must be named"));

  // A file system that takes no folders, on Linux; elsewhere the folder above does not exist and cannot be made.
  it("an output folder on a file system that takes none", () =>
    fails(
      ["measure", take, ...known, "--out", "/proc/none/here"],
      "output-not-writable",
      "cannot be written",
    ));

  it.each(["a-file", "a-file/below"])("an output folder that cannot be written: %s", (name) =>
    fails(["measure", take, ...known, "--out", join(root, name)], "output-not-writable", "cannot be written"),
  );

  it("the take itself as output folder", () =>
    fails(
      ["measure", take, ...known, "--out", take],
      "output-is-take",
      "--out must not be the folder of the take",
    ));

  it("a folder among the takes of a batch as output folder, which would leave those in it out", async () => {
    const day = join(root, "day");
    for (const name of ["a/tile-1", "b/tile-2"]) await cp(take, join(day, name), { recursive: true });
    await fails(
      ["batch", day, "--out", join(day, "a")],
      "output-is-take",
      '"tile-1" in it would not be measured',
    );
  });

  it("an option given twice", () =>
    fails(["measure", take, ...known, "--rate", "1k"], "repeated-option", "--rate is given twice"));

  it("an unknown option", () => fails(["measure", take, "--speed", "1"], "unknown-option", "--speed"));

  it("an option without its value", async () => {
    const { code, stdout } = await runCaptured(["measure", take, "--json", "--rate"]);
    expect(code).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe("option-missing-argument");
  });

  it("an unknown command gets a suggestion", () =>
    fails(["mesure", take], "unknown-command", "Did you mean measure?"));

  it("two takes at once", () => fails(["measure", take, take], "excess-arguments", "too many arguments"));
});

describe("an interrupt half way", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "tile"), { numbers: range(0, 40), pixelsPerFrame: 2 });

  it.each([[[]], [["--json"]]])("exits 130 and leaves nothing, options %j", async (more) => {
    const controller = new AbortController();
    const written: string[] = [];
    const printed: string[] = [];
    const code = await run(["measure", take, ...known, ...more], {
      stdout: { write: (text) => printed.push(text) },
      stderr: {
        isTTY: true,
        write(text) {
          written.push(text);
          if (/\d+\/\d+/.test(text)) controller.abort();
        },
      },
      signal: controller.signal,
      env: {},
    });
    expect(code).toBe(130);
    expect(await readdir(root)).toEqual(["tile"]);
    await expect(stat(join(root, "tile-frontpace"))).rejects.toMatchObject({ code: "ENOENT" });
    const shown = more.length > 0 ? printed.join("") : written.join("");
    expect(shown).toContain("interrupted");
    if (more.length === 0) expect(printed).toEqual([]);
    else expect(JSON.parse(shown).error.code).toBe("interrupted");
  });
});
