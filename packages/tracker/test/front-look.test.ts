import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { type InventedTake, render } from "./support/render.js";

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

  it("the blur is that of the edge at rest, the smear of a stated exposure taken off, to 5 %", async () => {
    const still = await lookOf();
    expect(Math.abs(still.edgeBlurPixels / 1.5 - 1)).toBeLessThan(TOLERANCE);
    const smeared = await lookOf({ exposureFraction: 1 }, 1);
    expect(Math.abs(smeared.edgeBlurPixels / 1.5 - 1)).toBeLessThan(TOLERANCE);
  });
});
