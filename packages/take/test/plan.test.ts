import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type PlanRequest, planModes, readModes } from "@frontpace/planner";
import { describe, expect, it } from "vitest";
import { readPlan, readResult } from "../src/files/read-plan.js";
import type { CalibratedPath } from "../src/path/calibrated-path.js";
import { assemblePlan } from "../src/planning/assemble-plan.js";
import { compareTake } from "../src/planning/compare-take.js";
import { earlierTake } from "../src/planning/earlier-take.js";
import { assembleResult } from "../src/result/assemble-result.js";
import { checkPlan } from "../src/schemas/check-plan.js";
import { crossed, frames, settings, tracked } from "./outcomes.js";
import { temporaryFolder } from "./render-take.js";

const modes = readModes(
  "columns,rows,max_rate,bits,min_exposure\n1280,800,76000,12,3e-7\n1280,96,500000,12,3e-7",
);
const request: PlanRequest = {
  speedMetresPerSecond: { low: 1200, high: 1600 },
  lengthMetres: 0.3,
  blurPixels: 3,
  memoryBytes: 1e9,
  reactionSeconds: 1e-3,
  goodExposureSeconds: 1e-6,
  stepToNoise: 20,
};
const subject = { take: "tile-07", material: null, request, cautions: ["be careful"] };
const { report, plan } = assemblePlan(planModes(modes, request), subject);

describe("plan.json", async () => {
  const root = await temporaryFolder();

  it("holds the chosen mode and what was asked for, and fits its schema", async () => {
    const read = await checkPlan(JSON.parse(JSON.stringify(plan)));
    expect(read).toEqual(plan);
    expect(read).toMatchObject({
      take: "tile-07",
      request,
      cautions: ["be careful"],
      mode: { rows: 96, meets: true },
    });
    expect(Object.keys(read)).toEqual([
      "format",
      "version",
      "program",
      "take",
      "material",
      "request",
      "mode",
      "predictedFrom",
      "cautions",
    ]);
  });

  it("there is none where no mode meets the wish; the report says what to relax", () => {
    const strict = { ...request, framesAcross: 1000 };
    const none = assemblePlan(planModes(modes, strict), { ...subject, request: strict });
    expect(none.plan).toBeNull();
    expect(none.report.relax).toContain("want 93.75 frames across instead of 1000");
    expect(none.report.chosen).toBeNull();
  });

  it("the report holds all modes, each with the figures of a plan in their order", () => {
    expect(report.chosen).toBe(0);
    expect(report.modes).toHaveLength(2);
    expect(Object.keys(report.modes[0]).slice(0, 14)).toEqual([
      "columns",
      "rows",
      "rateHz",
      "metresPerPixel",
      "framesAcross",
      "pixelsPerFrame",
      "blurPixels",
      "exposureSeconds",
      "stopsLost",
      "recordSeconds",
      "playbackSeconds",
      "predictedRelativeUncertainty",
      "meets",
      "reasons",
    ]);
  });

  it("comes back from its file; another file is named, with what is wrong", async () => {
    const file = join(root, "plan.json");
    await writeFile(file, JSON.stringify(plan));
    expect(await readPlan(file)).toEqual(plan);
    const result = join(root, "result.json");
    await writeFile(result, JSON.stringify(assembleResult(tracked, settings, frames).result));
    expect(await readResult(result)).toMatchObject({ status: "measured" });
    await expect(readPlan(result)).rejects.toMatchObject({
      code: "invalid-value",
      message: expect.stringMatching(
        /^result\.json is not a plan but the result of a take: give the plan\.json/,
      ),
    });
    await expect(readResult(file)).rejects.toMatchObject({ code: "invalid-value" });
    await expect(readPlan(join(root, "none.json"))).rejects.toMatchObject({
      code: "file-unreadable",
      message: expect.stringContaining("it does not exist"),
    });
    await writeFile(file, "{");
    await expect(readPlan(file)).rejects.toMatchObject({ code: "file-not-json" });
  });
});

describe("earlierTake", () => {
  const exact = { ...settings, exposureSeconds: 2e-6 };
  const { result } = assembleResult(tracked, exact, frames);

  it("lends step to noise with its exposure, blur, and the shares of wander, scale and rate", () => {
    const lent = earlierTake(result);
    expect(lent).toMatchObject({ stepToNoise: 20, goodExposureSeconds: 2e-6, edgeBlurPixels: 1.2 });
    // Scale 2e-6 of 2e-4; rate exact; a quarter of the variance of 0.02 px of 2 px a frame is wander.
    const { relativeWander, relativeScale, relativeRate, name } = lent.earlier!;
    expect(name).toBe("tile");
    expect(Math.abs(relativeScale! / 0.01 - 1)).toBeLessThan(1e-12);
    expect(relativeRate).toBe(0);
    expect(Math.abs(relativeWander! / 0.005 - 1)).toBeLessThan(1e-12);
  });

  it("joins the parts of a calibrated scale and what it leaves open, for the plan and for the comparison with it", () => {
    const part = (source: string, relativeStandardUncertainty: number) =>
      ({
        source,
        type: "B",
        relativeStandardUncertainty,
        degreesOfFreedom: Number.POSITIVE_INFINITY,
      }) as const;
    const parts = [part("length standard", 0.003), part("pointing", 0.004)];
    const metresPerPixel = {
      value: 2e-4,
      standardUncertainty: 2e-4 * Math.hypot(0.003, 0.004, 0.012),
      parts,
    };
    const none = null;
    const calibrated = {
      metresPerPixel,
      effects: { planes: { relative: 0.012 }, obliquity: none, lens: none, refraction: none },
      lengths: null,
      sides: null,
      warnings: [],
    } as unknown as CalibratedPath;
    const circumstances = { calibrated };
    const ofParts = assembleResult(tracked, exact, frames, circumstances).result;
    expect(ofParts.speed!.budget.map(({ source }) => source)).not.toContain("scale");
    const { earlier } = earlierTake(ofParts);
    // 3, 4 and 12 make 13.
    expect(Math.abs(earlier!.relativeScale! / 0.013 - 1)).toBeLessThan(1e-12);
    const asked = { ...request, earlier: earlier! };
    const planned = assemblePlan(planModes(modes, asked), { ...subject, take: null, request: asked }).plan!;
    expect(planned.predictedFrom).toContain("scale");
    const uncertainty = compareTake(planned, ofParts).quantities.find(
      ({ quantity }) => quantity === "relativeUncertainty",
    )!;
    // The fit of 0.02 px in 2 px a frame, and the scale; the rate is exact.
    expect(Math.abs(uncertainty.observed! / Math.hypot(0.01, 0.013) - 1)).toBeLessThan(1e-12);
  });

  it("the light pulse is the exposure where light is pulsed", () => {
    const pulsed = assembleResult(tracked, { ...exact, lightPulseSeconds: 1e-7 }, frames).result;
    expect(earlierTake(pulsed).goodExposureSeconds).toBe(1e-7);
  });

  it("what was not stated is not zero", () => {
    const unstated = assembleResult(tracked, { ...settings, metresPerPixel: { value: 2e-4 } }, frames).result;
    expect(earlierTake(unstated).earlier?.relativeScale).toBeNull();
    expect(earlierTake(unstated)).not.toHaveProperty("goodExposureSeconds");
  });

  it("a take without a speed lends nothing", () => {
    const bounded = assembleResult(crossed, settings, frames).result;
    expect(() => earlierTake(bounded)).toThrow(
      expect.objectContaining({
        code: "earlier-not-measured",
        message: expect.stringContaining("tile is bounded"),
      }),
    );
  });
});
