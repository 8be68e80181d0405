import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { checkPlan } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import { assembleResult } from "../../take/src/result/assemble-result.js";
import { frames, settings, tracked } from "../../take/test/outcomes.js";
import { temporaryFolder } from "../../take/test/render-take.js";
import { planOptionKeys, planOptions } from "../src/plan/plan-options.js";
import { buildProgram } from "../src/program.js";
import { capture, runCaptured } from "./capture.js";

const camera = fileURLToPath(new URL("../../../fixtures/invented-camera.csv", import.meta.url));
const wish = ["--modes", camera, "--speed", "1200..1600m/s", "--length", "300mm"];

describe("frontpace plan", async () => {
  const root = await temporaryFolder();
  const out = join(root, "planned");

  it("prints every mode, chooses one, writes plan and picture, and ends with the cautions", async () => {
    const argv = [
      "plan",
      ...wish,
      "--frames-across",
      "20",
      "--blur",
      "3px",
      "--take",
      "tile-07",
      "--out",
      out,
    ];
    const { code, stdout, stderr } = await runCaptured(argv);
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(stdout).toMatch(
      /^plan for tile-07: 1,200 to 1,600 m\/s over 300 mm, 9 modes of invented-camera\.csv$/m,
    );
    expect(stdout).toMatch(/^> {2}\d+ x \d+ /m);
    expect(stdout).toMatch(/^chosen: \d+ x \d+ px at [\d,]+ frames\/s/m);
    expect(stdout).toMatch(/^ {2}1280 x 800 px: the front is in 14\.23 frames, 20 are wanted$/m);
    expect(stdout).toContain("a capacitor kills after the supply is off");
    expect((await readdir(out)).sort()).toEqual(["plan.json", "plan.svg"]);
    const plan = await checkPlan(JSON.parse(await readFile(join(out, "plan.json"), "utf8")));
    expect(plan).toMatchObject({ take: "tile-07", mode: { meets: true } });
    expect(plan.cautions.length).toBeGreaterThan(5);
    expect(await readFile(join(out, "plan.svg"), "utf8")).toContain("<svg");
  });

  it("--quiet silences the cautions on the screen, not in the file", async () => {
    const quiet = join(root, "quiet");
    const { stdout } = await runCaptured(["plan", ...wish, "--quiet", "--out", quiet]);
    expect(stdout).not.toContain("capacitor");
    expect(await readFile(join(quiet, "plan.json"), "utf8")).toContain("capacitor");
  });

  it("with --json prints one object with all modes, best first, and the index of the chosen one", async () => {
    const { code, stdout } = await runCaptured(["plan", ...wish, "--rows", "700", "--json", "--out", out]);
    expect(code).toBe(0);
    const { modes, chosen } = JSON.parse(stdout);
    expect(modes).toHaveLength(10);
    expect(chosen).toBe(0);
    expect(modes[0].meets).toBe(true);
    const between = modes.find(({ rows }: { rows: number }) => rows === 700);
    expect(between.interpolation.fittedRows).toEqual([320, 512, 800]);
    expect(between.interpolation.relativeResidual).toBeGreaterThan(0);
  });

  it("shows residual and row time of interpolated heights, memory, trigger, screen and lamps", async () => {
    const more = [
      "--rows",
      "700",
      "--memory",
      "2s",
      "--reaction",
      "0.5s",
      "--playback",
      "25",
      "--mains",
      "50",
    ];
    const { stdout } = await runCaptured(["plan", ...wish, ...more, "--out", out]);
    expect(stdout).toMatch(
      /1280 x 700 px is between listed heights: [\d.]+ ns a row.*fitted to 320, 512, 800\s+rows, largest residual/,
    );
    // 2 s at 75,900 frames/s are 151,800 frames, on the screen 6072 s at 25 frames/s; the event of 300 mm at 1200 m/s is 250 us.
    expect(stdout).toMatch(/^ +px +memory +frames +.*event fills +kept from before the trigger$/m);
    expect(stdout).toMatch(/^ +1280 x 800 +2 s +151,800 +101 min +0\.013 % +\d+ %$/m);
    expect(stdout).toMatch(/memory holds 2,380,000 frames, 2 s; the event fills 0\.013 % of it/);
    expect(stdout).toMatch(/on the screen it lasts 1,653 min at 24, 1,587 min at 25/);
    expect(stdout).toMatch(/keep \d+ % of the memory from before the trigger/);
    expect(stdout).toMatch(/flicker of 100 Hz/);
    expect(stdout).not.toMatch(/120 Hz/);
    expect(stdout).toContain("a narrower picture of the same height is no faster in this list");
  });

  it("labels the uncertainty image noise only, and names what an earlier take adds", async () => {
    const light = ["--good-exposure", "1us", "--step-to-noise", "10"];
    const { stdout } = await runCaptured(["plan", ...wish, ...light, "--out", out]);
    expect(stdout).toMatch(/expected to [\d.]+ % standard uncertainty \(image noise only; step to noise/);
    const earlier = join(root, "earlier.json");
    const { result } = assembleResult(tracked, { ...settings, exposureSeconds: 1e-6 }, frames);
    await writeFile(earlier, JSON.stringify(result));
    const learnt = await runCaptured(["plan", ...wish, "--earlier", earlier, "--out", out]);
    expect(learnt.stdout).toMatch(/expected to 1\.1 % .* \(image noise, wander, scale, rate; step to noise/);
    const { request } = JSON.parse(await readFile(join(out, "plan.json"), "utf8"));
    expect(request).toMatchObject({ stepToNoise: 20, goodExposureSeconds: 1e-6, edgeBlurPixels: 1.2 });
  });

  it("takes the speed from a material and says where it is from, and how far that can be trusted", async () => {
    const argv = [
      "plan",
      "--modes",
      camera,
      "--material",
      "soda-lime-glass",
      "--length",
      "300mm",
      "--out",
      out,
    ];
    const { stdout } = await runCaptured(argv);
    expect(stdout).toContain("plan: 1,470 to 1,800 m/s over 300 mm");
    expect(stdout).toContain("the plan is tied to no take: with --take NAME");
    expect(stdout).toContain(
      "waves in soda-lime-glass: longitudinal 5,578 m/s, shear 3,416 m/s, Rayleigh 3,112 m/s",
    );
    expect(stdout).toMatch(/0\.76 of the Rayleigh speed in thin strengthened glass/);
    expect(stdout).toMatch(/Chaudhri, .*\(read at the source\)$/m);
    expect(stdout).toMatch(/\(from memory, not verified\)$/m);
    const { material } = JSON.parse(await readFile(join(out, "plan.json"), "utf8"));
    expect(material.name).toBe("soda-lime-glass");
    expect(material.sources).toHaveLength(4);
  });

  it("says how long the event lasts on the screen where no memory is given", async () => {
    // 300 mm at 1500 m/s are 200 us, at 75,900 frames/s 15.18 frames: 0.6325 s at 24, 0.253 s at 60 frames/s.
    const one = join(root, "one.csv");
    await writeFile(one, "columns,rows,max_rate\n1280,800,75900\n");
    const wish = ["--speed", "1500m/s", "--length", "300mm", "--out", out];
    const { stdout } = await runCaptured(["plan", "--modes", one, ...wish]);
    expect(stdout).toMatch(/over 300 mm, 1 mode of one\.csv$/m);
    expect(stdout.replace(/\s+/g, " ")).toMatch(/on the screen it lasts 0\.63\d s at 24, .* 0\.253 s at 60 /);
  });

  it("of a material without elastic constants it says so, and takes the published speeds", async () => {
    const wish = ["--material", "lead-oxide-glass", "--length", "300mm", "--out", out];
    const { code, stdout } = await runCaptured(["plan", "--modes", camera, ...wish]);
    expect(code).toBe(0);
    expect(stdout).toContain("plan: 1,200 to 1,400 m/s over 300 mm");
    expect(stdout.replace(/\s+/g, " ")).toContain(
      "not the heavy silicate flint): no constants to compute them",
    );
  });

  it("where no mode meets the wish says what to relax, exits 2 and writes the picture, every mode crossed, but no plan", async () => {
    const none = join(root, "none");
    const argv = ["plan", ...wish, "--frames-across", "500", "--out", none];
    const human = await runCaptured(argv);
    expect(human.code).toBe(2);
    expect(human.stdout).toMatch(/^x {2}1280 x 800 /m);
    expect(human.stderr).toBe(
      "error: no mode meets the wish: 1280 x 32 px at 1190000 frames/s comes nearest: want 223.1 frames across instead of 500\n",
    );
    const machine = await runCaptured([...argv, "--json"]);
    expect(machine).toMatchObject({ code: 2, stderr: "" });
    const printed = JSON.parse(machine.stdout);
    expect(printed.chosen).toBeNull();
    expect(printed.modes).toHaveLength(9);
    expect(printed.error).toMatchObject({ code: "no-mode-meets" });
    expect(await readdir(none)).toEqual(["plan-unmet.svg"]);
    expect(human.stdout).toMatch(/^written:\n {2}\S*none\/plan-unmet\.svg$/m);
    const picture = await readFile(join(none, "plan-unmet.svg"), "utf8");
    expect(picture.match(/class="mode fails"/g)).toHaveLength(9);
    expect(picture).not.toContain('class="mode meets"');
    expect(picture).not.toContain('class="chosen"');
    expect(picture).toContain("no mode meets the wish</title>");
    await runCaptured(["plan", ...wish, "--out", none]);
    expect((await readdir(none)).toSorted()).toEqual(["plan.json", "plan.svg"]);
  });

  describe("bad input exits 2, names what is wrong, and writes nothing", async () => {
    const list = async (name: string, text: string) => {
      await writeFile(join(root, name), text);
      return join(root, name);
    };
    const headless = await list("headless.csv", "1280,800,76000\n");
    const unknown = await list("unknown.csv", "columns,rows,max_rate,fps\n1,1,1,1\n");
    const noBits = await list("no-bits.csv", "columns,rows,max_rate\n1280,800,76000\n");
    const length = ["--length", "300mm"];
    const speed = ["--speed", "1500m/s"];
    const modes = ["--modes", camera];
    it.each<[string, readonly string[], string, string]>([
      [
        "a missing header",
        ["--modes", headless, ...speed, ...length],
        "header-missing",
        "headless.csv, line 1: the header is missing",
      ],
      [
        "an unknown column",
        ["--modes", unknown, ...speed, ...length],
        "unknown-column",
        'unknown column "fps"',
      ],
      [
        "a list that is not there",
        ["--modes", join(root, "no.csv"), ...speed, ...length],
        "modes-unreadable",
        "does not exist",
      ],
      ["no list", [...speed, ...length], "option-missing", "--modes is missing"],
      [
        "memory in bytes without bits",
        ["--modes", noBits, ...speed, ...length, "--memory", "1GB"],
        "bits-missing",
        "--memory: the mode of 1280 x 800 px has no bits",
      ],
      [
        "a missing unit",
        [...modes, "--speed", "1500", ...length],
        "invalid-option",
        'got "1500": the unit is missing',
      ],
      ["a wrong unit", [...modes, "--speed", "1500mm", ...length], "invalid-option", 'unknown unit "mm"'],
      [
        "a word as the unit",
        [...modes, "--speed", "1500constructor", ...length],
        "invalid-option",
        "unknown unit",
      ],
      [
        "a reversed range",
        [...modes, "--speed", "1600..1200m/s", ...length],
        "invalid-option",
        "which is reversed",
      ],
      ["three speeds", [...modes, "--speed", "1..2..3m/s", ...length], "invalid-option", "--speed must be"],
      ["no speed", [...modes, ...length], "option-missing", "--speed"],
      [
        "a misspelt option",
        ["--mode", camera, ...speed, ...length],
        "unknown-option",
        "'--mode' (Did you mean --modes?): --help behind the command",
      ],
      [
        "a folder for the list",
        ["--modes", root, ...speed, ...length],
        "modes-unreadable",
        "(it is a folder)",
      ],
      [
        "an uncertainty that nothing tells",
        [...modes, ...speed, ...length, "--uncertainty", "0.1%"],
        "noise-unknown",
        "add --step-to-noise with --good-exposure, or --earlier",
      ],
      [
        "a trigger without a memory",
        [...modes, ...speed, ...length, "--reaction", "0.5s"],
        "memory-missing",
        "add --memory",
      ],
      [
        "speed and material",
        [...modes, ...speed, ...length, "--material", "acrylic"],
        "invalid-option",
        "give one of them",
      ],
      ["no length", [...modes, ...speed], "option-missing", "--length is missing"],
      [
        "an unknown material",
        [...modes, ...length, "--material", "granite"],
        "unknown-material",
        "known are soda-lime-glass",
      ],
      [
        "a material without a speed",
        [...modes, ...length, "--material", "acrylic"],
        "no-crack-speed",
        "no measured speed of cracks",
      ],
      [
        "a height beyond the list",
        [...modes, ...speed, ...length, "--rows", "20"],
        "rows-outside",
        "32 to 800 px",
      ],
      [
        "heights that are none",
        [...modes, ...speed, ...length, "--rows", "20,x"],
        "invalid-option",
        "--rows must be heights",
      ],
      [
        "two exposures",
        [...modes, ...speed, ...length, "--exposure", "1us", "--exposure-fraction", "50%"],
        "invalid-value",
        "--exposure-fraction: ",
      ],
      [
        "stops from nothing",
        [...modes, ...speed, ...length, "--stops", "2"],
        "reference-missing",
        "--good-exposure",
      ],
      [
        "two frames across",
        [...modes, ...speed, ...length, "--frames-across", "2"],
        "invalid-value",
        "--frames-across: ",
      ],
      [
        "another mains",
        [...modes, ...speed, ...length, "--mains", "55"],
        "invalid-option",
        "--mains must be 50 or 60",
      ],
      [
        "another side",
        [...modes, ...speed, ...length, "--along", "up"],
        "invalid-option",
        "--along must be columns or rows",
      ],
      [
        "an earlier result that is not there",
        [...modes, ...speed, ...length, "--earlier", join(root, "r.json")],
        "file-unreadable",
        "does not exist",
      ],
      [
        "an empty output folder",
        [...modes, ...speed, ...length, "--out", ""],
        "invalid-option",
        "--out must name a folder",
      ],
    ])("%s", async (_, argv, code, words) => {
      const before = (await readdir(root)).sort();
      const human = await runCaptured(["plan", ...argv]);
      expect(human).toMatchObject({ code: 2, stdout: "" });
      expect(human.stderr).toContain(words);
      const machine = await runCaptured(["plan", ...argv, "--json"]);
      expect(machine).toMatchObject({ code: 2, stderr: "" });
      expect(JSON.parse(machine.stdout)).toEqual({
        error: { code, message: expect.stringContaining(words) },
      });
      expect((await readdir(root)).sort()).toEqual(before);
    });
  });
});

describe("the options of plan", async () => {
  const root = await temporaryFolder();
  const given = { speed: "1500m/s", length: "300mm" };
  const set = (texts: Parameters<typeof planOptions>[0]) => planOptions({ ...given, ...texts });

  it.each([
    ["1500m/s", { low: 1500, high: 1500 }],
    ["1.2km/s", { low: 1200, high: 1200 }],
    ["1200..1600m/s", { low: 1200, high: 1600 }],
    ["900m/s..1.2km/s", { low: 900, high: 1200 }],
    ["1.5..2km/s", { low: 1500, high: 2000 }],
    ["50..60 mm/s", { low: 0.05, high: 0.06 }],
  ])("--speed %s", (text, expected) => {
    expect(planOptions({ ...given, speed: text }).speedMetresPerSecond).toEqual(expected);
  });

  it.each([
    ["memory", "16GB", { memoryBytes: 16e9 }],
    ["memory", "512 MB", { memoryBytes: 512e6 }],
    ["memory", "2s", { memorySeconds: 2 }],
    ["exposureFraction", "50%", { exposureFraction: 0.5 }],
    ["exposureFraction", "0.5", { exposureFraction: 0.5 }],
    ["light", "4x", { relativeLight: 4 }],
    ["uncertainty", "0.5%", { relativeUncertainty: 0.005 }],
    ["blur", "2px", { blurPixels: 2 }],
    ["mains", "60", { mainsHz: 60 }],
    ["noise", "read", { noise: "read" }],
    ["along", "rows", { along: "rows" }],
    ["scale", "0.2mm", { metresPerPixel: 0.0002 }],
  ])("--%s %s", (option, text, expected) => {
    expect(set({ [option]: text })).toMatchObject(expected);
  });

  it("each sets the keys it is listed with, and no other", () => {
    const texts: Record<string, string> = {
      speed: "1m/s",
      length: "1m",
      along: "rows",
      scale: "1mm",
      framesAcross: "3",
      blur: "1",
      exposure: "1us",
      exposureFraction: "1",
      memory: "1s",
      reaction: "1s",
      playback: "25",
      goodExposure: "1us",
      light: "1",
      stops: "1",
      stepToNoise: "1",
      noise: "shot",
      edgeBlur: "1",
      width: "1",
      uncertainty: "1%",
      mains: "50",
    };
    for (const [option, text] of Object.entries(texts)) {
      const keys = Object.keys(set({ [option]: text })).filter(
        (key) => !["speedMetresPerSecond", "lengthMetres"].includes(key),
      );
      const listed = planOptionKeys[option as keyof typeof planOptionKeys] as readonly string[];
      for (const key of keys) expect(listed).toContain(key);
      if (!given[option as keyof typeof given]) expect(keys).toHaveLength(1);
    }
    expect([...Object.keys(texts), "material"].sort()).toEqual(Object.keys(planOptionKeys).sort());
  });

  it("are those of the command line, besides files, names and what is printed", () => {
    const program = buildProgram(capture().context, {
      measure: async () => {},
      batch: async () => {},
      report: async () => {},
      overlay: async () => {},
      find: async () => {},
      plan: async () => {},
      compare: async () => {},
      completion: async () => {},
      check: async () => {},
      calibrate: async () => {},
    });
    const plan = program.commands.find((command) => command.name() === "plan");
    const besides = ["modes", "rows", "earlier", "take", "json", "quiet", "out"];
    const names = plan?.options.map((option) => option.attributeName()) ?? [];
    expect(names.filter((name) => !besides.includes(name)).sort()).toEqual(
      Object.keys(planOptionKeys).sort(),
    );
  });

  it("an example stands in the help, and does what it says", async () => {
    const { stdout } = await runCaptured(["plan", "--help"]);
    const example = /^ {2}frontpace (plan (?:.*\\\n)*.*)$/m
      .exec(stdout)?.[1]
      .replace(/\\\n/g, " ")
      .split(/\s+/);
    const argv = example!.map((part) => (part === "fixtures/invented-camera.csv" ? camera : part));
    expect((await runCaptured([...argv, "--out", join(root, "example")])).code).toBe(0);
  });
});
