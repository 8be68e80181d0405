import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { assembleResult } from "../../take/src/result/assemble-result.js";
import { crossed, frames, settings } from "../../take/test/outcomes.js";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { runCaptured } from "./capture.js";

describe("a plan and its take", async () => {
  const root = await temporaryFolder();
  const modes = join(root, "camera.csv");
  await writeFile(modes, "columns,rows,max_rate\n96,16,100000\n");
  const plan = async (name: string, speed: string, more: readonly string[] = []) => {
    const out = join(root, name);
    const argv = [
      "plan",
      "--modes",
      modes,
      "--speed",
      speed,
      "--length",
      "19.2mm",
      "--take",
      "tile",
      ...more,
    ];
    expect((await runCaptured([...argv, "--out", out])).code).toBe(0);
    return join(out, "plan.json");
  };
  const take = await renderTake(join(root, "tile"), { numbers: range(-4, 50), pixelsPerFrame: 2, start: 0 });
  const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0.5%"];
  const good = await plan("good", "38..42m/s");
  const wrong = await plan("wrong", "60..70m/s");
  const result = join(root, "tile-frontpace", "result.json");

  it("measure --plan --material prints the comparison and the share of the Rayleigh speed, and exits 0", async () => {
    const argv = ["measure", take, ...known, "--plan", good, "--material", "soda-lime-glass"];
    const { code, stdout } = await runCaptured(argv);
    expect(code).toBe(0);
    expect(stdout).toMatch(/^the plan held:$/m);
    expect(stdout).toMatch(/^ +speed, m\/s +38 to 42 +40 +held$/m);
    expect(stdout).toMatch(
      /^soda-lime-glass: 1\.3 % of the Rayleigh speed, 3,112 m\/s, from .* \(as another quotes it\)$/m,
    );
  });

  it("compare exits 0 where the plan held", async () => {
    await runCaptured(["measure", take, ...known]);
    const { code, stdout, stderr } = await runCaptured(["compare", good, result]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: "" });
    expect(stdout).toMatch(/^the plan held:$/m);
    expect(stdout).toContain("the exposure of the take is not stated");
  });

  it("compare ends with the caution of a result, which --quiet leaves out, and nothing else", async () => {
    const loud = await runCaptured(["compare", good, result]);
    const quiet = await runCaptured(["compare", good, result, "--quiet"]);
    expect(loud.stdout).toBe(
      `${quiet.stdout}\nNot for legal or safety certification: check the pictures before you rely on the number.\n`,
    );
    expect(quiet).toMatchObject({ code: 0, stderr: "" });
  });

  it("compare exits 3 where it did not, with reason and what to set next; --json prints the same as one object", async () => {
    const { code, stdout } = await runCaptured(["compare", wrong, result]);
    expect(code).toBe(3);
    expect(stdout).toMatch(/^the plan did not hold:$/m);
    expect(stdout).toMatch(/^x +speed, m\/s +60 to 70 +40 +fell short$/m);
    const { speed } = JSON.parse(await readFile(result, "utf8"));
    const reason = `speed, m/s: ${(speed.value / 60).toPrecision(4)} times what was planned: the front ran at another speed than expected`;
    expect(stdout.replace(/\s+/g, " ")).toContain(`${reason} (more than the uncertainties allow)`);
    expect(stdout).toMatch(/^for the next take:\n {2}plan with 40\.?\d* m\/s$/m);
    const machine = await runCaptured(["compare", wrong, result, "--json"]);
    expect(machine.code).toBe(3);
    const { format, version, program, held, quantities } = JSON.parse(machine.stdout);
    expect({ format, version, name: program.name }).toEqual({
      format: "frontpace-comparison",
      version: 1,
      name: "frontpace",
    });
    expect(held).toBe(false);
    expect(quantities.find(({ quantity }: { quantity: string }) => quantity === "speed")).toMatchObject({
      verdict: "fell-short",
      beyondUncertainty: true,
      planned: { low: 60, high: 70 },
    });
  });

  it("labels an uncertainty that was predicted from image noise only, side by side and in --json", async () => {
    const noisy = await plan("noisy", "38..42m/s", ["--step-to-noise", "20", "--good-exposure", "10us"]);
    const { stdout } = await runCaptured(["compare", noisy, result]);
    expect(stdout).toMatch(/^[x ] +uncertainty \(image noise only\) +\S+ % to \S+ % +\S+ % +/m);
    const machine = await runCaptured(["compare", noisy, result, "--json"]);
    const { quantities } = JSON.parse(machine.stdout);
    expect(quantities.at(-1)).toMatchObject({ quantity: "relativeUncertainty", label: "image noise only" });
  });

  it("a front too fast to follow gives the lowest rate that would measure it", async () => {
    const bounded = join(root, "bounded.json");
    await writeFile(bounded, JSON.stringify(assembleResult(crossed, settings, frames).result));
    const { code, stdout } = await runCaptured(["compare", good, bounded]);
    expect(code).toBe(3);
    // Three frames over 100 px of 0.2 mm, at the bound of about 1000 m/s.
    const [, rate] =
      /^the lowest rate that would measure it, if it ran at the bound: ([\d,]+) frames\/s$/m.exec(stdout) ??
      [];
    expect(Math.abs(Number(rate.replace(",", "")) / 150_000 - 1)).toBeLessThan(0.02);
  });

  it("names what is wrong and exits 2: a plan of another take, a file that is none, no file", async () => {
    const other = await renderTake(join(root, "other"), { numbers: range(0, 3), pixelsPerFrame: 2 });
    const cases: [readonly string[], string, string][] = [
      [
        ["measure", other, ...known, "--plan", good],
        "different-takes",
        "--plan: the plan was made for the take tile",
      ],
      [["compare", result, result], "invalid-value", "result.json is not a plan but the result of a take"],
      [["compare", good, good], "invalid-value", "give the result.json that frontpace measure wrote"],
      [["compare", good, root], "file-unreadable", "holds no result.json: give the folder that frontpace"],
      [["compare", good, join(root, "none.json")], "file-unreadable", "it does not exist"],
      [["compare", good], "missing-argument", "result"],
      [
        ["measure", take, ...known, "--material", "granite"],
        "unknown-material",
        "--material: unknown material",
      ],
      [
        ["measure", take, ...known, "--material", "lead-oxide-glass"],
        "no-elastic-constants",
        "--material: the table has no elastic constants of lead-oxide-glass",
      ],
    ];
    for (const [argv, code, words] of cases) {
      const human = await runCaptured(argv);
      expect(human).toMatchObject({ code: 2, stdout: "" });
      expect(human.stderr).toContain(words);
      const machine = await runCaptured([...argv, "--json"]);
      expect(JSON.parse(machine.stdout).error).toMatchObject({ code });
    }
  });

  it("its help shows an example", async () => {
    const { stdout } = await runCaptured(["compare", "--help"]);
    expect(stdout).toContain("frontpace compare tile-07-plan/plan.json tile-07-frontpace/result.json");
  });
});
