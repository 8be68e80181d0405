import type { Found } from "../../src/one-front/follow-divided.js";
import type { FollowedFront } from "../../src/one-front/follow-front.js";

export interface InventedReading {
  readonly interceptPixels?: number;
  readonly slopePixelsPerFrame: number;
  readonly blurPixels?: number;
  /** Relative, of the speed. */
  readonly unsure?: number;
  /** DN at each of the positions; 0: not seen there. */
  readonly change?: (position: number) => number;
  readonly positions?: number;
  /** Frames that show it. */
  readonly frames?: readonly number[];
}

/** A test double: what following a front gives, as far as readings are compared by it. Written by hand. The noise is
 *  1 DN, and the change at a position is known to a quarter of that. */
export function reading(invented: InventedReading): Found {
  const { interceptPixels = 0, slopePixelsPerFrame, blurPixels = 1, unsure = 0.002 } = invented;
  const { change = () => 40, positions = 100, frames = [2, 30] } = invented;
  const front = {
    motion: {
      shape: "step",
      sense: slopePixelsPerFrame > 0 ? 1 : -1,
      interceptPixels,
      slopePixelsPerFrame,
      blurPixels,
      exposureFraction: 0,
      tiltSpreadPixels: 0,
    },
    models: Array.from({ length: positions }, (_, position) => ({
      position,
      change: change(position),
      inverse: [1 / 16, 0, 1 / 16],
    })),
    frames,
    line: {
      intercept: interceptPixels,
      slope: slopePixelsPerFrame,
      slopeStandardUncertainty: unsure * Math.abs(slopePixelsPerFrame),
    },
    noiseVariance: 1,
  };
  // What comparing readings does not look at is left out.
  return {
    front: front as unknown as FollowedFront,
    look: { verdict: "front", candidates: [], noise: 1, weight: 1 },
    tilt: null,
    tangent: 0,
    kept: Array.from({ length: 60 }, (_, i) => i),
    foreign: [],
    rejected: [],
    gain: null,
    window: null,
  };
}
