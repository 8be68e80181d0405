import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { type InventedTake, render, sourceOf } from "../support/render.js";

const take: InventedTake = {
  numbers: Array.from({ length: 60 }, (_, i) => i),
  rows: 15,
  columns: 120,
  frontAt: (time) => -20 + 3 * time,
  blurPixels: 1.5,
  step: 80,
  noise: 8,
};
const lookOf = async (change: Partial<InventedTake> = {}, exposureFraction?: number) => {
  const outcome = await trackFront(
    render({ ...take, ...change }),
    exposureFraction ? { exposureFraction } : {},
  );
  if (outcome.status !== "tracked") throw new Error(`the take is ${outcome.status}`);
  return outcome.track.look!;
};

/** The noise is estimated from some 7,000 samples, the blur from the pixels of some 40 passages: a few percent. */
const TOLERANCE = 0.05;

describe("the look of a front", () => {
  it.each([
    [80, 8],
    [80, 40],
    [-60, 8],
  ])("a step of %i DN in noise of %i DN gives their ratio, to 5 %", async (step, noise) => {
    const { stepToNoise } = await lookOf({ step, noise });
    expect(Math.abs((stepToNoise * noise) / Math.abs(step) - 1)).toBeLessThan(TOLERANCE);
  });

  it("is that of a single pixel, however many rows are averaged", async () => {
    const [few, many] = [await lookOf({ rows: 9 }), await lookOf({ rows: 30 })];
    expect(Math.abs(few.stepToNoise / many.stepToNoise - 1)).toBeLessThan(TOLERANCE);
  });

  it.each([5, 15, 40])(
    "is over the noise of the pixels alone, within 15 percent, where the edge is a ramp of 0.8 px and %i rows are averaged",
    async (rows) => {
      const normal = seededNormal(7);
      const [step, noise] = [160, 2];
      // Integral of a ramp from 0 at -0.4 px to 1 at 0.4 px, closed form.
      const summed = (x: number) => (x < -0.4 ? 0 : x > 0.4 ? x : (x + 0.4) ** 2 / 1.6);
      const source = sourceOf({ numbers: take.numbers, rows, columns: 120 }, (_, column, number) => {
        const behind = -20 + 3.1 * number - column;
        return 40 + step * (summed(behind + 0.5) - summed(behind - 0.5)) + noise * normal();
      });
      const outcome = await trackFront(source, {});
      if (outcome.status !== "tracked") throw new Error(outcome.status);
      expect(Math.abs(outcome.track.look!.stepToNoise / (step / noise) - 1)).toBeLessThan(0.15);
    },
  );

  it("the blur is that of the edge at rest, the smear of a stated exposure taken off, to 5 %", async () => {
    const still = await lookOf();
    expect(Math.abs(still.edgeBlurPixels / 1.5 - 1)).toBeLessThan(TOLERANCE);
    const smeared = await lookOf({ exposureFraction: 1 }, 1);
    expect(Math.abs(smeared.edgeBlurPixels / 1.5 - 1)).toBeLessThan(TOLERANCE);
  });
});
