import type { StripedStreak } from "../streak/read-streak.js";
import { isMotion } from "./is-motion.js";
import { FEWEST_PLACED } from "./motion-criteria.js";
import { type PictureShift, pictureShift } from "./picture-shift.js";
import type { SteadySamples } from "./steady-samples.js";

/** Shift of each frame along the path where that crosses an edge and shows no texture beside it. The parts of the edge
 *  in the two halves of the width stand for the halves of a texture: the picture moves where they agree.
 *  @returns null where that is not told either */
export function edgeShift(streak: StripedStreak, samples: SteadySamples): PictureShift | null {
  const { data, shape, strips, roundingNoise } = streak;
  const shiftOf = (of: Float64Array) => pictureShift(of, shape, samples, roundingNoise, { isOneEdge: true });
  const seen = shiftOf(data);
  if (!seen?.moves) return seen;
  const middle = strips.length >> 1;
  const sides = [strips.slice(0, middle), strips.slice(middle)].map((half) =>
    half.length === 0 ? null : shiftOf(meanOf(half)),
  );
  const [one, other] = sides.map((side) => side?.shiftPixels);
  if (!one || !other) return null;
  const told = Array.from(seen.shiftPixels.keys()).filter(
    (i) => !Number.isNaN(seen.shiftPixels[i] + one[i] + other[i]),
  );
  if (told.length < FEWEST_PLACED) return null;
  const moves = isMotion(
    told.map((i) => seen.shiftPixels[i]),
    told.map((i) => seen.standardUncertaintyPixels[i]),
    told.map((i) => [one[i], other[i]] as const),
  );
  return { ...seen, moves };
}

function meanOf(strips: readonly Float64Array[]): Float64Array {
  return strips[0].map((_, at) => strips.reduce((sum, strip) => sum + strip[at], 0) / strips.length);
}
