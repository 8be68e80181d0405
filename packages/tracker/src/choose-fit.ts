import { sumOfSquaresAtOnce } from "./change-at-once.js";
import type { FirstLook } from "./find-front.js";
import { type BrightnessField, residualField } from "./front-model.js";
import { type JointFit, jointFit } from "./joint-fit.js";
import { startMotions } from "./start-motions.js";

/** A fit that leaves less than this times the noise explains the streak. */
const ADEQUATE = 1.5;
/** Fits that leave up to this times the least are compared by the sureness of their motion. */
const COMPARABLE = 1.5;
/** What a pulse must explain beyond a step, in units of the noise variance: five standard deviations. */
const PULSE_COST = 25;
/** What a moving front must explain beyond any change of all positions at once, in units of the noise variance,
 *  besides what its own levels explain of the noise: seven standard deviations of one parameter (common practice,
 *  no source). */
const LEAST_PROPAGATION = 50;

/** The joint fit that a first look leads to, or null where no motion explains more than one change of all
 *  positions at once. */
export function chooseFit(
  field: BrightnessField,
  frameNumbers: readonly number[],
  look: FirstLook,
  exposureFraction: number | undefined,
): JointFit | null {
  const variance = look.noise ** 2;
  const fits = look.candidates.flatMap(({ shape, line }) =>
    startMotions(line, shape, frameNumbers, field.positions, exposureFraction).map((start) =>
      jointFit(field, frameNumbers, start),
    ),
  );
  const best = surestFit(fits, variance, field.frames * field.positions);
  if (!best) return null;
  const left = sumOfSquaresAtOnce(residualField(field, best.state, best.models));
  const apart = sumOfSquaresAtOnce(field) - left;
  return apart < (LEAST_PROPAGATION + 2 * field.positions) * variance ? null : best;
}

/** The fit that explains most, where it explains the streak down to its noise; else, where something besides the
 *  front changes (a drift of the light), of those that explain nearly as much the one whose motion is surest. A
 *  pulse is believed only where it explains clearly more than a step.
 *  @param noiseVariance  of a sample, from differences in time */
function surestFit(fits: readonly JointFit[], noiseVariance: number, samples: number): JointFit | null {
  const cost = ({ motion, sumOfSquares }: JointFit) =>
    sumOfSquares + (motion.shape === "pulse" ? PULSE_COST * noiseVariance : 0);
  const closest = fits.reduce<JointFit | null>(
    (best, fit) => (!best || cost(fit) < cost(best) ? fit : best),
    null,
  );
  if (!closest || closest.sumOfSquares < ADEQUATE * noiseVariance * samples) return closest;
  return fits
    .filter((fit) => cost(fit) < COMPARABLE * cost(closest))
    .reduce((best, fit) => (fit.significance > best.significance ? fit : best));
}
