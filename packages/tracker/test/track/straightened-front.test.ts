import { bandedDiagonal, fitWanderingLine } from "@frontpace/fit";
import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import type { FollowedFront } from "../../src/one-front/follow-front.js";
import { straightenedFront } from "../../src/track/straightened-front.js";

/** A plane in which px 100 lies at 100 and every further pixel is a little longer. */
const straight = (pixels: number) => pixels + 0.0005 * pixels * pixels;
/** The other way round. */
const seenAt = (even: number) => (Math.sqrt(1 + 4 * 0.0005 * even) - 1) / (2 * 0.0005);

const NOISE = 0.05;

/** A front at 4 even px a frame, as the picture shows it; a test double, followed by nobody. */
function evenFront(widened = 1): FollowedFront {
  const normal = seededNormal(5);
  const numbers = Array.from({ length: 40 }, (_, k) => k);
  const positionPixels = numbers.map((k) => seenAt(10 + 4 * k) + NOISE * normal());
  const information = { banded: bandedDiagonal(numbers.map(() => 1 / NOISE ** 2)), lost: null };
  const line = fitWanderingLine(numbers, positionPixels, information);
  const seen = { ...line, slopeStandardUncertainty: widened * line.slopeStandardUncertainty };
  const standardUncertaintyPixels = numbers.map(() => NOISE);
  const readings = {
    numbers,
    positionPixels,
    information,
    weighting: information,
    groupOf: (k: number) => k,
  };
  return {
    line: seen,
    readings,
    positionPixels,
    standardUncertaintyPixels,
    frames: numbers,
  } as unknown as FollowedFront;
}

describe("straightenedFront", () => {
  it("finds the even speed of a front that slows down in the picture, with the uncertainty of an even one", () => {
    const { line, positionPixels } = straightenedFront(evenFront(), straight);
    expect(Math.abs(line.slope - 4)).toBeLessThan(4 * line.slopeStandardUncertainty);
    // White noise of 0.05 to 0.066 even px at 40 frames: u = 0.0007 to 0.0009
    expect(line.slopeStandardUncertainty).toBeLessThan(0.0015);
    expect(evenFront().line.slopeStandardUncertainty).toBeGreaterThan(5 * line.slopeStandardUncertainty);
    expect(Math.abs(positionPixels[20] - 90)).toBeLessThan(0.3);
  });

  it("stretches the uncertainty of a position by the local scale", () => {
    const front = evenFront();
    const { standardUncertaintyPixels } = straightenedFront(front, straight);
    const at = front.positionPixels[39];
    expect(Math.abs(standardUncertaintyPixels[39] / (NOISE * (1 + 0.001 * at)) - 1)).toBeLessThan(1e-9);
  });

  it("keeps what widened the line beyond its own fit", () => {
    const plain = straightenedFront(evenFront(), straight).line;
    const wide = straightenedFront(evenFront(3), straight).line;
    expect(Math.abs(wide.slopeStandardUncertainty / plain.slopeStandardUncertainty - 3)).toBeLessThan(1e-9);
  });

  it("changes nothing where nothing is bent", () => {
    const front = evenFront();
    const same = straightenedFront(front, (pixels) => pixels);
    expect(Math.abs(same.line.slope - front.line.slope)).toBeLessThan(1e-9);
    expect(Math.abs(same.line.intercept - front.line.intercept)).toBeLessThan(1e-9);
  });
});
