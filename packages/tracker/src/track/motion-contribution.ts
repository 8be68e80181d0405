import type { PictureMotion } from "../find/find-steadied.js";
import type { SlopeContribution } from "../types.js";

export interface UsedPosition {
  /** Number of the frame as stored. */
  readonly frame: number;
  /** Of the position in the line: 1/variance, 1/px². */
  readonly weight: number;
}

/** A picture at rest has its creep evaluated where that could be this part of the line's uncertainty at most. */
const MOST_AT_REST = 1 / 3;
/** Share of the frames used whose texture must tell. */
const LEAST_REGISTERED = 2 / 3;

/** What the shift of the picture from frame to frame leaves open of the slope of the line.
 *
 *  Where it was subtracted: errors of single frames scatter the front's positions, and are in the uncertainty of the
 *  line already. Left over is what that scatter does not show: the noise of the texture that all frames were laid
 *  over, which as the front covers it lets the shift creep, and the part by which frames with little texture left,
 *  at the ends of the line, are less sure than the scatter is on the mean.
 *
 *  Where the picture is at rest as far as its texture tells, nothing was subtracted, and a shake too small to be seen
 *  is in the scatter likewise. A creep is not: its uncertainty is that of a straight line through the shifts. It is
 *  only stated where the texture tells it to a third of the line's own uncertainty. Worse texture does not make a
 *  creep of a camera more likely, so widening the interval by what was not seen would be as wrong as calling it zero:
 *  it is said to be not evaluated.
 *  @param used  of the line through the positions
 *  @param slopeStandardUncertainty  of that line, px a frame */
export function motionContribution(
  { shift, kept, isLeft, asRead: { frameNumbers, storedNumbers } }: PictureMotion,
  used: readonly UsedPosition[],
  slopeStandardUncertainty: number,
): SlopeContribution {
  const none = (why: string) => ({ notEvaluated: `${why}: pane and camera are taken to be at rest` });
  if (isLeft)
    return {
      notEvaluated:
        "the picture moves, and too few frames show undisturbed texture to tell how far: nothing was subtracted",
    };
  if (!shift) return none("no texture ahead of the front to register the picture by");
  const indexOf = new Map(storedNumbers.map((number, i) => [number, i]));
  const told = used.flatMap(({ frame, weight }) => {
    const i = indexOf.get(frame) as number;
    return Number.isNaN(shift.shiftPixels[i]) ? [] : [{ i, time: frameNumbers[i], weight }];
  });
  if (told.length < 3 || told.length < LEAST_REGISTERED * used.length)
    return none(
      `no texture ahead of the front to register the picture by in ${used.length - told.length} of the ${used.length} frames used`,
    );
  const total = told.reduce((sum, { weight }) => sum + weight, 0);
  const middle = told.reduce((sum, { time, weight }) => sum + weight * time, 0) / total;
  const spread = told.reduce((sum, { time, weight }) => sum + weight * (time - middle) ** 2, 0);
  const slopeWeights = new Float64Array(frameNumbers.length);
  for (const { i, time, weight } of told) slopeWeights[i] = (weight * (time - middle)) / spread;
  const { all, readings } = shift.varianceOf(slopeWeights);
  const { degreesOfFreedom } = shift;
  if (kept) {
    const squares = told.map(({ i }) => shift.standardUncertaintyPixels[i] ** 2);
    const mean = squares.reduce((sum, square) => sum + square, 0) / squares.length;
    const seen = slopeWeights.reduce((sum, weight) => sum + weight * weight * mean, 0);
    return {
      standardUncertaintyPixelsPerFrame: Math.sqrt(all - readings + Math.max(0, readings - seen)),
      degreesOfFreedom,
    };
  }
  const creep = Math.sqrt(all);
  if (creep > MOST_AT_REST * slopeStandardUncertainty)
    return none(
      `the picture is seen to move in no frame, but its texture would not show a creep of ${creep.toPrecision(1)} px a frame, which is more than a third of the standard uncertainty of the line`,
    );
  return { standardUncertaintyPixelsPerFrame: creep, degreesOfFreedom };
}
