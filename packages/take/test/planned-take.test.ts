import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type PlanRequest, planModes, readModes } from "@frontpace/planner";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { assemblePlan } from "../src/planning/assemble-plan.js";
import { compareTake } from "../src/planning/compare-take.js";
import { assembleResult } from "../src/result/assemble-result.js";
import { withMaterial } from "../src/result/with-material.js";
import { checkResult } from "../src/schemas/check-result.js";
import type { PlanFile } from "../src/types.js";
import { crossed, frames, notFound, settings, tracked } from "./outcomes.js";
import { range, renderTake, temporaryFolder } from "./render-take.js";

const codes = ({ warnings }: { warnings: readonly { code: string }[] }) => warnings.map(({ code }) => code);

/** A plan for 96 columns at 100,000 frames/s and 0.2 mm a pixel: 40 m/s are 2 px a frame, 48 frames across. */
function planFor(take: string | null, request: Partial<PlanRequest> = {}): PlanFile {
  const asked: PlanRequest = {
    speedMetresPerSecond: { low: 38, high: 42 },
    lengthMetres: 0.0192,
    ...request,
  };
  const modes = readModes("columns,rows,max_rate\n96,16,100000");
  const subject = { take, material: null, request: asked, cautions: [] };
  return assemblePlan(planModes(modes, asked), subject).plan!;
}

describe("measuring with a plan", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "tile"), { numbers: range(-4, 50), pixelsPerFrame: 2, start: 0 });
  const known = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 2e-4, metresPerPixelUncertainty: 1e-6 };
  const write = async (name: string, plan: unknown) => {
    await writeFile(join(root, name), JSON.stringify(plan));
    return join(root, name);
  };
  const good = await write("good.json", planFor("tile"));
  const wrong = await write("wrong.json", planFor("tile", { speedMetresPerSecond: { low: 60, high: 70 } }));

  it("holds it against what was observed, and the result fits its schema", async () => {
    const { result } = await measureTake(take, { ...known, plan: good });
    expect(result.comparison?.held).toBe(true);
    expect(codes(result)).not.toContain("plan-not-held");
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
    expect(compareTake(planFor("tile"), result)).toEqual(result.comparison);
  });

  it("warns where it did not hold, with the reason, and measures the same speed", async () => {
    const { result } = await measureTake(take, { ...known, plan: wrong });
    const plain = (await measureTake(take, known)).result;
    expect(result.speed).toEqual(plain.speed);
    expect(plain).not.toHaveProperty("comparison");
    expect(result.comparison?.held).toBe(false);
    expect(result.warnings.find(({ code }) => code === "plan-not-held")?.message).toContain(
      `speed is ${(result.speed!.value / 60).toPrecision(4)} times what was planned`,
    );
  });

  it("the warning names what did not hold in words, not by the keys of result.json", async () => {
    const slow = await write("slow.json", planFor("tile", { speedMetresPerSecond: { low: 20, high: 25 } }));
    const { result } = await measureTake(take, { ...known, plan: slow });
    const message = result.warnings.find(({ code }) => code === "plan-not-held")?.message;
    expect(message).toContain("number of frames across is 0.6");
    expect(message).not.toMatch(/[a-z][A-Z]/);
  });

  it("of a speed from the physics table the warning says how many of its sources were read", async () => {
    const material = { name: "soda-lime-glass", sources: ["A (from memory, not verified)"] };
    const remembered = await write("remembered.json", {
      ...JSON.parse(await readFile(wrong, "utf8")),
      material,
    });
    const { result } = await measureTake(take, { ...known, plan: remembered });
    expect(result.warnings.find(({ code }) => code === "plan-not-held")?.message).toContain(
      "published speeds of cracks in soda-lime-glass, 1 of 1 not read at the source",
    );
  });

  it("take.json names the plan relative to itself, and an option wins over it", async () => {
    const noted = await renderTake(join(root, "noted"), {
      numbers: range(-4, 50),
      pixelsPerFrame: 2,
      start: 0,
    });
    await write("noted.plan.json", planFor("noted"));
    const file = {
      format: "frontpace-take",
      version: 1,
      ...known,
      plan: "../noted.plan.json",
      material: "iron",
    };
    await writeFile(join(noted, "take.json"), JSON.stringify(file));
    const { result } = await measureTake(noted);
    expect(result.comparison?.held).toBe(true);
    expect(result.material).toMatchObject({ name: "iron" });
    await expect(measureTake(noted, { plan: good })).rejects.toMatchObject({ code: "different-takes" });
  });

  it("a plan of another take, one that is none, and an unknown material are errors before anything is measured", async () => {
    const other = await write("other.json", planFor("tile-08"));
    await expect(measureTake(take, { ...known, plan: other })).rejects.toMatchObject({
      code: "different-takes",
    });
    const none = await write("none.json", { format: "frontpace-result" });
    await expect(measureTake(take, { ...known, plan: none })).rejects.toMatchObject({
      code: "invalid-value",
    });
    await expect(measureTake(take, { ...known, plan: join(root, "x") })).rejects.toMatchObject({
      code: "file-unreadable",
    });
    await expect(measureTake(take, { ...known, material: "granite" })).rejects.toMatchObject({
      code: "unknown-material",
    });
  });

  it("a result measured with one plan is not compared with another", async () => {
    const { result } = await measureTake(take, { ...known, plan: good });
    expect(() => compareTake(planFor("tile", { framesAcross: 4 }), result)).toThrow(
      expect.objectContaining({ code: "different-takes", message: expect.stringContaining("another plan") }),
    );
  });
});

describe("compareTake", () => {
  it("takes bounded and not-found results, which no plan survives", () => {
    const plan = planFor(null);
    for (const outcome of [crossed, notFound]) {
      const { held, lowestRateHz } = compareTake(plan, assembleResult(outcome, settings, frames).result);
      expect(held).toBe(false);
      expect(lowestRateHz === null).toBe(outcome === notFound);
    }
  });
});

describe("withMaterial", () => {
  /** 2 px a frame: so many m/s at 1 m a pixel is twice the rate. */
  const at = (speed: number, relativeUncertainty = 0) => {
    const quick = {
      ...settings,
      rateHz: { value: speed / 2, standardUncertainty: (speed / 2) * relativeUncertainty },
      metresPerPixel: { value: 1, standardUncertainty: 0 },
    };
    return assembleResult(tracked, quick, frames).result;
  };

  it("gives the share of the Rayleigh speed with the source of its constants", () => {
    const { material, warnings } = withMaterial(at(1500), "soda-lime-glass");
    // 3111.6 m/s from EN 572-1.
    expect(Math.abs(material!.shareOfRayleigh! / (1500 / 3111.6) - 1)).toBeLessThan(1e-4);
    expect(material).toMatchObject({ name: "soda-lime-glass", status: "secondary" });
    expect(material!.source).toContain("EN 572-1");
    expect(codes({ warnings })).not.toContain("above-rayleigh");
  });

  it("warns above it, says what to look at, whether it is sure, and that the constants were not read at their source", () => {
    const message = (result: ReturnType<typeof at>) =>
      withMaterial(result, "soda-lime-glass").warnings.find(({ code }) => code === "above-rayleigh")?.message;
    expect(message(at(3300))).toContain(
      "3300 m/s is above the Rayleigh speed of soda-lime-glass, 3112 m/s, by more than",
    );
    expect(message(at(3300))).toContain("look at scale, rate, a front that meets the path obliquely");
    expect(message(at(3300))).toContain("(as another quotes it)");
    expect(message(at(3200, 0.05))).toContain("though its interval reaches below it");
    expect(message(at(3100))).toBeUndefined();
  });

  it("says of constants that were read that they were", () => {
    const { warnings } = withMaterial(at(3300), "iron");
    expect(warnings.find(({ code }) => code === "above-rayleigh")?.message).toContain("(read at the source)");
  });

  it("a bound above it warns, too, and nothing found has no share", () => {
    const fast = { ...settings, metresPerPixel: { value: 1, standardUncertainty: 0 } };
    const bounded = withMaterial(assembleResult(crossed, fast, frames).result, "acrylic");
    expect(codes(bounded)).toContain("above-rayleigh");
    const lost = withMaterial(assembleResult(notFound, settings, frames).result, "acrylic");
    expect(lost.material?.shareOfRayleigh).toBeNull();
    expect(codes(lost)).not.toContain("above-rayleigh");
  });
});
