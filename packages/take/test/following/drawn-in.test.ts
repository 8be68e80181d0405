import { describe, expect, it } from "vitest";
import { normalFrom } from "../../../arrival/test/support/render.js";
import { withDrawnIn } from "../../src/following/drawn-in.js";
import { crossed, tracked } from "../outcomes.js";

const SPEED = 2;
const FIRST_RADIUS = 6;
const frames = Array.from({ length: 30 }, (_, k) => k);
const variance = tracked.track.look ? tracked.track.look.edgeBlurPixels ** 2 + 1 / 12 : Number.NaN;

/** A circle that runs out evenly, seen on a ray from a radius on, as a lens draws it or as it is; the places are read to `noise` px. */
function seen(lensShare: number, noise: number) {
  const normal = normalFrom(3);
  const positions = frames.map((frame) => {
    const radius = FIRST_RADIUS + SPEED * frame;
    return {
      frame,
      positionPixels: radius - (lensShare * variance) / (2 * radius) - FIRST_RADIUS + noise * normal(),
      standardUncertaintyPixels: noise,
      residualPixels: 0,
      used: true,
    };
  });
  return { ...tracked, track: { ...tracked.track, positions } };
}

/** Slope of unweighted least squares less the true one, px a frame. */
function tooFast({ track: { positions } }: typeof tracked): number {
  const middle = (frames.length - 1) / 2;
  const products = positions.reduce(
    (sum, { frame, positionPixels }) => sum + (frame - middle) * positionPixels,
    0,
  );
  return products / frames.reduce((sum, frame) => sum + (frame - middle) ** 2, 0) - SPEED;
}

function openOf(outcome: ReturnType<typeof withDrawnIn>): number {
  if (outcome.status !== "tracked") return Number.NaN;
  const { modelChoice } = outcome.track.line.contributions;
  return "notEvaluated" in modelChoice ? 0 : modelChoice.standardUncertaintyPixelsPerFrame;
}

describe("a round front that a lens may have drawn in", () => {
  it("is open by as much as the lens makes of it, where the readings say that it did", () => {
    const drawn = seen(1, 1e-4);
    // By as much as is seen, but that the radius in the correction is the seen one, too.
    expect(openOf(withDrawnIn(drawn, FIRST_RADIUS)) * Math.sqrt(3)).toBeGreaterThan(tooFast(drawn));
    expect(openOf(withDrawnIn(drawn, FIRST_RADIUS)) * Math.sqrt(3)).toBeLessThan(1.1 * tooFast(drawn));
  });

  it("is open where the readings cannot tell, too", () => {
    const unsure = seen(0, 0.3);
    const by = openOf(withDrawnIn(unsure, FIRST_RADIUS)) * Math.sqrt(3);
    expect(by / tooFast(seen(1, 1e-9))).toBeGreaterThan(0.9);
    expect(by / tooFast(seen(1, 1e-9))).toBeLessThan(1.1);
  });

  it("is not where they say that its edge is wide by itself, nor where nothing was followed", () => {
    const wide = seen(0, 0.01);
    expect(withDrawnIn(wide, FIRST_RADIUS)).toBe(wide);
    expect(withDrawnIn(crossed, FIRST_RADIUS)).toBe(crossed);
  });

  it("keeps what was open before", () => {
    const drawn = seen(1, 1e-4);
    const before = { standardUncertaintyPixelsPerFrame: 0.05, degreesOfFreedom: 9 };
    const { line } = drawn.track;
    const contributions = { ...line.contributions, modelChoice: before };
    const outcome = { ...drawn, track: { ...drawn.track, line: { ...line, contributions } } };
    const alone = openOf(withDrawnIn(drawn, FIRST_RADIUS));
    expect(openOf(withDrawnIn(outcome, FIRST_RADIUS))).toBeCloseTo(Math.hypot(0.05, alone), 12);
  });
});
