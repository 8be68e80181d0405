import { fitPolynomial } from "@frontpace/fit";
import type { Found } from "../one-front/follow-divided.js";
import type { PictureShift } from "./picture-shift.js";

/** A pane that kicks or a camera that shakes moves the picture by this part of the path at most. */
const MOST_OF_PATH = 0.2;
/** Between these parts of a front's speed a steady shift is the front's own run. */
const RUN = [0.3, 3] as const;
/** A front that wanders about its run departs from it by this part of what the run itself makes, standard deviations. */
const WANDER_OF_RUN = 0.5;

/** Whether the shifts reach over so much of the path that texture has been laid over other texture. */
export function reachesTooFar({ shiftPixels }: PictureShift, positions: number): boolean {
  const seen = shiftPixels.filter((shift) => !Number.isNaN(shift)).sort();
  return seen[seen.length - 1] - seen[0] > MOST_OF_PATH * positions;
}

/** Whether the shifts are a steady run as fast as a front: then it is the foot of that front that was registered, or the
 *  whole scene goes by, and neither is a pane that kicks or a camera that shakes.
 *  @param frameNumbers  of the shifts
 *  @param isAhead  only what lies ahead of the front was registered; else the front was, too, and may wander on its run */
export function runsLikeAFront(
  { shiftPixels }: PictureShift,
  frameNumbers: readonly number[],
  fronts: readonly Found[],
  isAhead: boolean,
): boolean {
  const seen = Array.from(shiftPixels.keys()).filter((i) => !Number.isNaN(shiftPixels[i]));
  if (seen.length < 3) return false;
  const { coefficients, residualStandardDeviation } = fitPolynomial(
    seen.map((i) => frameNumbers[i]),
    seen.map((i) => shiftPixels[i]),
    1,
  );
  const [slowest, fastest] = RUN;
  const wander = isAhead ? 1 : (WANDER_OF_RUN * (seen[seen.length - 1] - seen[0])) / Math.sqrt(12);
  return fronts.some(({ front }) => {
    const ratio = front ? coefficients[1] / front.line.slope : 0;
    return (
      ratio > slowest && ratio < fastest && residualStandardDeviation < wander * Math.abs(coefficients[1])
    );
  });
}
