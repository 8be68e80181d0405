import { median } from "./median.js";

/** Frames looked at on either side. */
const FRAMES = 16;

/** Noise on the two sides of a change of the light.
 *  @param factor  of the light, in the middle of the picture
 *  @returns how many times as large the noise in the lesser light is as that of the greater once this is made darker: at least 1, at most as
 *    much as where noise does not grow with the light */
export function noiseRatio(
  old: readonly Float64Array[],
  now: readonly Float64Array[],
  isBrighter: boolean,
  factor: number,
): number {
  const most = Math.max(1, factor);
  const [inDim, inBright] = isBrighter ? [noiseOf(old), noiseOf(now)] : [noiseOf(now), noiseOf(old)];
  return inBright > 0 ? Math.min(most, Math.max(1, (most * inDim) / inBright)) : 1;
}

/** Usual difference of a cell from one frame to the next, that of all cells apart. */
function noiseOf(frames: readonly Float64Array[]): number {
  const sizes: number[] = [];
  for (let i = Math.max(1, frames.length - FRAMES); i < frames.length; i++) {
    const differences = frames[i].map((value, k) => value - frames[i - 1][k]);
    const common = median(differences);
    sizes.push(median(differences.map((value) => Math.abs(value - common))));
  }
  return median(sizes);
}
