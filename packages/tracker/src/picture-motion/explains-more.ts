import { layOver } from "./lay-over.js";
import { LEAST_GAINED, LEAST_GAINED_IN_FRAME } from "./motion-criteria.js";
import type { PictureShift } from "./picture-shift.js";
import type { RegisteredShift } from "./register-shift.js";
import type { SplineLine } from "./spline-line.js";

/** Whether the moving texture leaves less of the frames than one at rest, by about as much as its shifts say it should.
 *  Noise laid over noise, or pixels that change by themselves, find places where they fit, and fit no better there.
 *  @param isTexture  whether there is texture is known */
export function explainsMore(
  { shiftPixels, standardUncertaintyPixels }: PictureShift,
  registered: readonly (RegisteredShift | null)[],
  still: SplineLine,
  lineOf: (frame: number) => Float64Array,
  isTexture: boolean,
): boolean {
  let gained = 0;
  let promised = 0;
  let placed = 0;
  registered.forEach((seen, i) => {
    if (!seen || Number.isNaN(shiftPixels[i])) return;
    const gain = gainOf(seen, still, lineOf(i));
    if (gain === null) return;
    gained += gain;
    placed++;
    promised += (shiftPixels[i] / standardUncertaintyPixels[i]) ** 2;
  });
  return gained > Math.max(LEAST_GAINED * promised, isTexture ? 0 : LEAST_GAINED_IN_FRAME * placed);
}

/** Whether, in the frames laid over a texture that is not settled yet, there is half of the least gain. */
export function gainsInFrames(
  registered: readonly (RegisteredShift | null)[],
  still: SplineLine,
  lineOf: (frame: number) => Float64Array,
): boolean {
  let gained = 0;
  let placed = 0;
  registered.forEach((seen, i) => {
    const gain = seen && gainOf(seen, still, lineOf(i));
    if (gain === null) return;
    gained += gain;
    placed++;
  });
  return gained > (LEAST_GAINED_IN_FRAME / 2) * placed;
}

/** How much less the texture moved leaves of a frame than one at rest, in variances. */
function gainOf(
  { from, to, weight, residual, variance }: RegisteredShift,
  still: SplineLine,
  line: Float64Array,
): number | null {
  const atRest = layOver(still, line, [from, to], 0, { from, weight });
  if (!atRest) return null;
  const left = residual.reduce((sum, r, k) => sum + weight[k] * r * r, 0);
  return (atRest.sum - left) / variance;
}
