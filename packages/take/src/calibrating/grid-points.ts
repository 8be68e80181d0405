import { CalibrationError, type Correspondence, findGrid, type GridPattern } from "@frontpace/calibration";
import type { CalibrationStill } from "./read-stills.js";

/** The points of a printed grid in a still.
 *  @throws CalibrationError that names the still */
export function gridPoints(
  still: CalibrationStill,
  pattern: GridPattern,
  signal: AbortSignal | undefined,
): { readonly points: readonly Correspondence[]; readonly uncertaintyPixels: number } {
  signal?.throwIfAborted();
  try {
    const { points, plane, standardUncertaintyPixels } = findGrid(still, pattern);
    return {
      points: points.map((pixel, n) => ({ pixel, plane: plane[n] })),
      uncertaintyPixels: standardUncertaintyPixels,
    };
  } catch (error) {
    if (error instanceof CalibrationError)
      throw new CalibrationError(error.code, `${still.name}: ${error.message}`);
    throw error;
  }
}
