import { centralDifferences, type SlopesOf } from "../numbers/least-squares.js";
import { fitShape, type Shape, type ShapeFit } from "./fit-shape.js";
import type { Samples } from "./samples-around.js";

/** Blur of the pixel itself, a box of 1 px: samples tell nothing of one that is smaller. px */
export const PIXEL_BLUR = 1 / Math.sqrt(12);
/** A smaller blur before the pixels changes nothing that these show. px */
export const SHARPEST = 0.05;

/** `fitShape` of a shape whose last parameter is the logarithm of its blur, px. A picture sharper than that does not tell
 *  the blur: there it is held, and its uncertainty is as large as itself.
 *  @param sharpestPixels  that of the pixel, or less where the shape has the pixel in itself
 *  @returns null where the fit does not settle */
export function fitBlurred(
  samples: Samples,
  shape: Shape,
  start: { readonly parameters: readonly number[]; readonly level: number; readonly height: number },
  shapeSlopes: SlopesOf = (parameters) => centralDifferences(shape, parameters),
  sharpestPixels = PIXEL_BLUR,
): ShapeFit | null {
  const logSharpest = Math.log(sharpestPixels);
  const broadened = (at: readonly number[]) => withSharpest(at, sharpestPixels);
  const shareOf = (at: readonly number[]) => shareOfChange(at, sharpestPixels);
  const free = fitShape(
    samples,
    (at) => shape(broadened(at)),
    start,
    (at) => {
      const slopes = shapeSlopes(broadened(at));
      const share = shareOf(at);
      return slopes.with(
        -1,
        Float64Array.from(slopes[slopes.length - 1], (slope) => slope * share),
      );
    },
  );
  if (free && Math.exp(free.parameters[free.parameters.length - 1]) > sharpestPixels / 2)
    return {
      ...free,
      parameters: broadened(free.parameters),
      standardUncertainties: free.standardUncertainties.with(
        -1,
        free.standardUncertainties[free.standardUncertainties.length - 1] * shareOf(free.parameters),
      ),
    };
  const held = fitShape(
    samples,
    (at) => shape([...at, logSharpest]),
    { ...start, parameters: start.parameters.slice(0, -1) },
    (at) => shapeSlopes([...at, logSharpest]).slice(0, -1),
  );
  return (
    held && {
      ...held,
      parameters: [...held.parameters, logSharpest],
      standardUncertainties: [...held.standardUncertainties, 1],
    }
  );
}

/** With the blur that is looked for and the sharpest together. */
function withSharpest(parameters: readonly number[], sharpestPixels: number): number[] {
  const blur = Math.exp(parameters[parameters.length - 1]);
  return parameters.with(-1, Math.log(Math.hypot(sharpestPixels, blur)));
}

/** Change of the logarithm of both together with that of the blur that is looked for. */
function shareOfChange(parameters: readonly number[], sharpestPixels: number): number {
  const square = Math.exp(2 * parameters[parameters.length - 1]);
  return square / (sharpestPixels ** 2 + square);
}
