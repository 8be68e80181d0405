import { fitPolynomial } from "@frontpace/fit";
import { profileReach } from "../model/edge-profile.js";
import { smearOf } from "../model/joint-fit.js";
import type { Found } from "../one-front/follow-divided.js";
import type { FollowedFront } from "../one-front/follow-front.js";
import { areResidualsRandom } from "../one-front/residuals-random.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { CEILINGS } from "../streak/white-level.js";
import type { FrontPosition, TrackOptions, TrackWarning } from "../types.js";
import { lineInWords } from "./front-line.js";
import { standingStill } from "./standing-still.js";
import { tiltWarnings } from "./tilt-warnings.js";

/** In the last frames of a take a front may lack the level behind it, and is not seen for that alone. */
const LEAST_LEFT = 5;
/** Rows are said to be worth fewer below this part of their number. */
const CORRELATED = 0.6;

/** Everything seen on the way that could change what the operator does. */
export function trackWarnings(
  streak: StripedStreak,
  { tilt, foreign, kept, parts, stripsLeftOut }: Found,
  front: FollowedFront,
  positions: readonly FrontPosition[],
  { exposureFraction }: TrackOptions,
): TrackWarning[] {
  const warnings: TrackWarning[] = [...streakWarnings(streak)];
  const warn = (code: string, message: string) => warnings.push({ code, message });
  const { line, motion } = front;
  const used = positions.filter((position) => position.used);
  const rejected = positions.filter((position) => !position.used).map(({ frame }) => frame);
  if (rejected.length > 0)
    warn(
      "frames-rejected",
      `the front stands too far from the line in frame ${rejected.join(", ")}; not used. Look at these frames`,
    );
  if (foreign.length > 0) {
    const [what, have, them] = foreign.length > 1 ? ["frames", "have", "them"] : ["frame", "has", "it"];
    warn(
      "foreign-frames",
      `${what} ${foreign.map((i) => streak.storedNumbers[i]).join(", ")} ${have} nothing to do with those before and after ${them}; not used. Look at these files`,
    );
  }
  if (stripsLeftOut)
    warn(
      "band-narrowed",
      `in ${stripsLeftOut.length} of ${streak.strips.length} parts of the width, about ${stripsInWords(streak, stripsLeftOut)} off the path (+: to its right hand), something besides the front changes: fragments, glints, another crack or front. They were left out, and the speed is that in the rest. Look at the frames there, and give a path through that part and its width (--path, --width) to follow what runs there`,
    );
  if (line.rule === "few-points")
    warn(
      "few-frames",
      `only ${used.length} frames show the front: too few to see whether it wanders, so three times the variance of independent errors is taken`,
    );
  if (tilt) warnings.push(...tiltWarnings(tilt.degrees));
  if (exposureFraction !== undefined) {
    const smear = Math.abs(motion.slopePixelsPerFrame) * exposureFraction;
    const width = 2.355 * motion.blurPixels;
    if (smear > 2 * width)
      warn(
        "smeared",
        `the front runs ${smear.toFixed(1)} px while a frame collects light, more than twice its own width of ${width.toFixed(1)} px: a shorter exposure or light pulse would place it better`,
      );
  }
  const stand = standingStill(used, line.slope);
  if (parts)
    warn(
      "speed-not-constant",
      `the front runs in ${parts.length} parts, of which each goes on where the one before ends: ${parts.map((part) => lineInWords(part, streak)).join("; ")}. The speed is the mean from the first frame used to the last, with what lies between: give the frames of one part for its own`,
    );
  else if (stand)
    warn(
      "speed-not-constant",
      `the front stands at about ${stand.from.positionPixels.toFixed(0)} px from frame ${stand.from.frame} to frame ${stand.to.frame}: the speed given is a mean with that time. Give the frames before or after it (--frames) for the speed at which the front runs`,
    );
  else if (isCurved(used))
    warn(
      "speed-not-constant",
      "a straight line does not describe the positions: the front speeds up or slows down, and the speed given is a mean over the frames used",
    );
  const numbers = kept.map((frame) => streak.frameNumbers[frame]);
  if (!parts && (line.wander.correlation > 0.9 || !areResidualsRandom(front, numbers)))
    warn(
      "residuals-not-random",
      "the front stays on one side of the line for several frames at a time: it wanders slowly, or its speed varies on the way. The interval is no narrower than parts of the way, left out one after the other, tell; look at the residuals before trusting it",
    );
  const last = used[used.length - 1];
  const end = streak.shape[1] - 1;
  const beyond = last.positionPixels + line.slope;
  const left = profileReach(motion.blurPixels, smearOf(motion), motion.form) + Math.abs(line.slope);
  const framesLeft = streak.storedNumbers.length - 1 - streak.storedNumbers.indexOf(last.frame);
  if (framesLeft > 0) {
    if (beyond > end || beyond < 0)
      warn(
        "front-leaves",
        `the front leaves the path after frame ${last.frame}; later frames say nothing of it`,
      );
    else if (framesLeft > LEAST_LEFT && beyond > left && beyond < end - left)
      warn(
        "front-ends",
        `the front is not seen beyond ${last.positionPixels.toFixed(0)} px after frame ${last.frame}, though the path and the take go on: it stops there, turns off the path, or is lost. The speed is that up to there: look at the streak, and give the frames and the path where the front ran`,
      );
  }
  return warnings;
}

/** Warnings that do not need a front. */
export function streakWarnings({ ceiling, effectiveRows, width }: StripedStreak): TrackWarning[] {
  const warnings: TrackWarning[] = [];
  if (CEILINGS.includes(ceiling.value) && ceiling.share >= 0.001)
    warnings.push({
      code: "saturated",
      message: `${(100 * ceiling.share).toFixed(1)} % of the samples stand at ${ceiling.value}, the largest value: the picture is overexposed there, and a front in it is placed wrongly. Shorten the exposure or close the aperture`,
    });
  if (effectiveRows !== null && effectiveRows < CORRELATED * width)
    warnings.push({
      code: "samples-correlated",
      message: `the noise of neighbouring pixels is alike, as a colour mosaic, compression or resampling makes it: ${width} rows across the path are worth ${effectiveRows.toFixed(0)}, and that is what the uncertainty is reckoned with. Raw frames gain more from a wide band`,
    });
  return warnings;
}

/** The middles of some strips, px off the path, those side by side as one range. */
function stripsInWords({ stripOffsetsPixels }: StripedStreak, strips: readonly number[]): string {
  const runs: [first: number, last: number][] = [];
  for (const strip of strips) {
    const run = runs.at(-1);
    if (run?.[1] === strip - 1) run[1] = strip;
    else runs.push([strip, strip]);
  }
  const at = (strip: number) => `${stripOffsetsPixels[strip].toFixed(0)} px`;
  return runs.map(([first, last]) => (first === last ? at(first) : `${at(first)} to ${at(last)}`)).join(", ");
}

/** Whether a parabola leaves less than half of what the line leaves, root mean square, and its bend is surer than
 *  four standard uncertainties of the readings. A wander of the usual kind is not explained so well by a bend. */
function isCurved(used: readonly FrontPosition[]): boolean {
  if (used.length < 6) return false;
  const frames = used.map(({ frame, timeFrames }) => timeFrames ?? frame);
  const positions = used.map(({ positionPixels }) => positionPixels);
  const standardUncertainty = used.map(({ standardUncertaintyPixels }) => standardUncertaintyPixels);
  const line = fitPolynomial(frames, positions, 1, { standardUncertainty });
  const parabola = fitPolynomial(frames, positions, 2, { standardUncertainty });
  const bend = Math.abs(parabola.coefficients[2]) / Math.sqrt(parabola.covariance[2][2]);
  return bend > 4 && parabola.residualStandardDeviation < 0.5 * line.residualStandardDeviation;
}
