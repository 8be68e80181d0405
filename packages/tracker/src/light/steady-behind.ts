import { median } from "@frontpace/fit";
import { BEHIND } from "./sides.js";

/** Positions that tell of the light from frame to frame: brighter than so many times the noise, and so many of them. */
const FAINTEST = 5;
const FEWEST_POSITIONS = 8;
/** What is behind the front takes no part in the light where it surely shows less than this of it. */
const LEAST_PART = 0.5;
const SURE = 3;
/** Part of the take that is longer than from frame to frame. */
const LONGER = 1 / 8;

/** Whether what lies behind the front surely takes no part in a light that is said to vary, over a part of the take, and does not surely
 *  take part from frame to frame, where a level behind the front that drifts by itself does not hide it. */
export function isSteadyBehind(
  data: Float64Array,
  sideOf: Uint8Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  said: Float64Array,
): boolean {
  const partOver = (lag: number) => partBehind(data, sideOf, [frames, positions], noise, said, lag);
  const [short, long] = [partOver(1), partOver(Math.ceil(frames * LONGER))];
  if (!short || !long) return false;
  const surelyLess = long.value + SURE * long.standardUncertainty < LEAST_PART;
  return surelyLess && short.value - SURE * short.standardUncertainty < LEAST_PART;
}

/** Of the steps that a light is said to make from frames to others so much later, the part that is seen behind the front: 1 of a light, 0 of a glow.
 *  By the median of the positions there, for other things may change at some; null where it shows nothing. */
function partBehind(
  data: Float64Array,
  sideOf: Uint8Array,
  [frames, positions]: readonly [number, number],
  noise: number,
  said: Float64Array,
  lag: number,
): { readonly value: number; readonly standardUncertainty: number } | null {
  let [products, squares] = [0, 0];
  for (let i = lag; i < frames; i++) {
    const ratios: number[] = [];
    let brightness = 0;
    for (let p = 0; p < positions; p++) {
      const [before, after] = [(i - lag) * positions + p, i * positions + p];
      if (sideOf[before] !== BEHIND || sideOf[after] !== BEHIND) continue;
      const mean = (data[before] + data[after]) / 2;
      if (mean < FAINTEST * noise) continue;
      brightness += mean;
      ratios.push((data[after] - data[before]) / mean);
    }
    if (ratios.length < FEWEST_POSITIONS) continue;
    const step = Math.log(said[i] / said[i - lag]);
    const weight = (brightness / noise) ** 2 / ratios.length;
    products += weight * step * median(ratios);
    squares += weight * step ** 2;
  }
  // The variance of a median over that of a mean is π/2, that of a difference twice that; each frame counts in two steps, which at worst doubles it.
  return squares > 0
    ? { value: products / squares, standardUncertainty: Math.sqrt((2 * Math.PI) / squares) }
    : null;
}
