import { fitShape, type Shape, type ShapeFit } from "./fit-shape.js";
import { centralDifferences, type SlopesOf } from "./least-squares.js";
import type { Samples } from "./samples-around.js";

/** Blur of the pixel itself, a box of 1 px: samples tell nothing of one that is smaller. px */
const SHARPEST = 1 / Math.sqrt(12);
const LOG_SHARPEST = Math.log(SHARPEST);

/** `fitShape` of a shape whose last parameter is the logarithm of its blur, px. A picture sharper than its pixels does not tell
 *  the blur: there it is held at `SHARPEST`, and its uncertainty is as large as itself.
 *  @returns null where the fit does not settle */
export function fitBlurred(
  samples: Samples,
  shape: Shape,
  start: { readonly parameters: readonly number[]; readonly level: number; readonly height: number },
  shapeSlopes: SlopesOf = (parameters) => centralDifferences(shape, parameters),
): ShapeFit | null {
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
  if (free && Math.exp(free.parameters[free.parameters.length - 1]) > SHARPEST / 2)
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
    (at) => shape([...at, LOG_SHARPEST]),
    { ...start, parameters: start.parameters.slice(0, -1) },
    (at) => shapeSlopes([...at, LOG_SHARPEST]).slice(0, -1),
  );
  return (
    held && {
      ...held,
      parameters: [...held.parameters, LOG_SHARPEST],
      standardUncertainties: [...held.standardUncertainties, 1],
    }
  );
}

/** With the blur that is looked for and the sharpest together. */
function broadened(parameters: readonly number[]): number[] {
  const blur = Math.exp(parameters[parameters.length - 1]);
  return parameters.with(-1, Math.log(Math.hypot(SHARPEST, blur)));
}

/** Change of the logarithm of both together with that of the blur that is looked for. */
function shareOf(parameters: readonly number[]): number {
  const square = Math.exp(2 * parameters[parameters.length - 1]);
  return square / (SHARPEST ** 2 + square);
}
