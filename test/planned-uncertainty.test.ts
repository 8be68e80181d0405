import { speedUncertainty } from "@frontpace/planner";
import { measureTake } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import type { DrawnTake } from "../scripts/accuracy/draw-take.js";
import { renderTake } from "../scripts/accuracy/render-take.js";

/** Frames before and behind the passage. */
const MARGIN = 30;
const SEEDS = [1, 2, 3, 4, 5];

interface Planned {
  readonly framesAcross: number;
  readonly pixelsPerFrame: number;
  readonly blur: number;
  readonly exposure: number;
  readonly stepToNoise: number;
  readonly rows: number;
}

/** Image noise in the measured speed, relative: fit and wander of its budget. What the front's definition adds is not noise. */
async function measuredUncertainty(planned: Planned, seed: number): Promise<number> {
  const { framesAcross, pixelsPerFrame, blur, exposure, stepToNoise, rows } = planned;
  const frames = framesAcross + 2 * MARGIN;
  const take: DrawnTake = {
    seed,
    frames,
    numbers: Array.from({ length: frames }, (_, i) => i),
    across: rows,
    along: Math.round(framesAcross * pixelsPerFrame),
    direction: "right",
    polarity: 1,
    pixelsPerFrame,
    front: Float64Array.from({ length: frames }, (_, i) => -0.5 + pixelsPerFrame * (i - MARGIN + 0.3)),
    seenIn: framesAcross,
    blurPixels: blur,
    exposureFraction: exposure,
    exposureStated: true,
    bits: 12,
    before: 600,
    step: 1000,
    noise: 1000 / stepToNoise,
    stepToNoise,
    wander: null,
    light: new Float64Array(frames).fill(1),
    rateHz: 1e5,
    relativeRateUncertainty: 0,
    metresPerPixel: 1e-4,
    relativeScaleUncertainty: 0,
    trueSpeed: pixelsPerFrame * 10,
  };
  const exact = { rateUncertaintyHz: 0, metresPerPixelUncertainty: 0 };
  const { result } = await measureTake(
    { frames: renderTake(take) },
    { rateHz: 1e5, metresPerPixel: 1e-4, exposureSeconds: exposure / 1e5, ...exact },
  );
  if (result.status !== "measured") throw new Error(`the take of seed ${seed} is ${result.status}`);
  const noise = result.speed.budget.filter(({ source }) => source === "fit" || source === "wander");
  return Math.hypot(...noise.map(({ standardUncertainty }) => standardUncertainty)) / result.speed.value;
}

describe("the uncertainty predicted for a mode", () => {
  it.each<Planned>([
    { framesAcross: 5, pixelsPerFrame: 60, blur: 1, exposure: 0.3, stepToNoise: 20, rows: 15 },
    { framesAcross: 10, pixelsPerFrame: 20, blur: 1, exposure: 0.5, stepToNoise: 5, rows: 15 },
    { framesAcross: 16, pixelsPerFrame: 4, blur: 1.5, exposure: 0.3, stepToNoise: 10, rows: 24 },
    { framesAcross: 30, pixelsPerFrame: 20, blur: 1, exposure: 1, stepToNoise: 5, rows: 15 },
    { framesAcross: 40, pixelsPerFrame: 10, blur: 1, exposure: 0.5, stepToNoise: 20, rows: 15 },
    { framesAcross: 40, pixelsPerFrame: 3, blur: 1.5, exposure: 0.9, stepToNoise: 4, rows: 15 },
    { framesAcross: 60, pixelsPerFrame: 0.5, blur: 1, exposure: 0.5, stepToNoise: 20, rows: 15 },
    { framesAcross: 120, pixelsPerFrame: 4, blur: 1, exposure: 0.5, stepToNoise: 2, rows: 24 },
    { framesAcross: 120, pixelsPerFrame: 1, blur: 2, exposure: 0.5, stepToNoise: 10, rows: 15 },
  ])(
    "is within 30 % of the median that measure gives on rendered takes: %j",
    async (planned) => {
      const measured: number[] = [];
      for (const seed of SEEDS) measured.push(await measuredUncertainty(planned, seed));
      const predicted = speedUncertainty({
        framesAcross: planned.framesAcross,
        pixelsPerFrame: planned.pixelsPerFrame,
        motionBlurPixels: planned.exposure * planned.pixelsPerFrame,
        edgeBlurPixels: planned.blur,
        stepToNoise: planned.stepToNoise,
        rowsAveraged: planned.rows,
      })!;
      const median = measured.toSorted((a, b) => a - b)[SEEDS.length >> 1];
      expect(Math.abs(median / predicted - 1)).toBeLessThan(0.3);
    },
    60_000,
  );
});
