import { expect } from "vitest";
import { type FrameSource, type FrontTrack, type TrackOptions, trackFront } from "../../src/index.js";

/** The track of a front, and the codes of the warnings; anything else fails the test. */
export async function track(
  source: FrameSource,
  options: TrackOptions = {},
): Promise<FrontTrack & { readonly codes: readonly string[]; readonly width: number }> {
  const outcome = await trackFront(source, options);
  if (outcome.status !== "tracked")
    throw new Error(
      `expected a front, got ${outcome.status}: ${"message" in outcome ? outcome.message : ""}`,
    );
  return {
    ...outcome.track,
    codes: outcome.warnings.map(({ code }) => code),
    width: outcome.streak.width,
  };
}

/** Largest distance of the positions from where the front was, px. */
export function worstMiss({ positions }: FrontTrack, frontAt: (frame: number) => number): number {
  return positions.reduce(
    (worst, { frame, positionPixels }) => Math.max(worst, Math.abs(positionPixels - frontAt(frame))),
    0,
  );
}

/** Relative, because a digit count would be strict for 100 px a frame and lax for 0.1. */
export function expectRelative(actual: number, expected: number, tolerance: number): void {
  expect(Math.abs(actual / expected - 1), `${actual} against ${expected}`).toBeLessThan(tolerance);
}

/** For seeded noise: three standard uncertainties, missed by chance once in some 300 seeds. */
export function expectCovered({ line }: FrontTrack, pixelsPerFrame: number): void {
  const miss = Math.abs(line.slopePixelsPerFrame - pixelsPerFrame);
  expect(miss, `${line.slopePixelsPerFrame} against ${pixelsPerFrame}`).toBeLessThan(
    3 * line.standardUncertaintyPixelsPerFrame,
  );
}

/** Whole numbers from `first`, `count` of them. */
export function frames(count: number, first = 0): number[] {
  return Array.from({ length: count }, (_, i) => first + i);
}
