import type { FrontMotion } from "../model/joint-fit.js";

/** px, of a pair, to start from at least */
const LEAST_BLUR = 1.5;

/** Motions from which a pair is tried of which one line was followed: that line is the first, or the second, or lies between them.
 *  @param exposures  parts of the frame interval during which light may be collected. Default: as the line has it */
export function pairStarts(
  line: FrontMotion,
  exposures: readonly number[] = [line.exposureFraction],
): readonly FrontMotion[] {
  const blurPixels = Math.max(2 * line.blurPixels, LEAST_BLUR);
  return exposures.flatMap((exposureFraction) =>
    [-1, 0, 1].map((place) => ({
      ...line,
      shape: "pair" as const,
      blurPixels,
      exposureFraction,
      interceptPixels: line.interceptPixels + place * blurPixels,
    })),
  );
}
