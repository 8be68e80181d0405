import { sumOfSquaresAtOnce } from "../first-look/change-at-once.js";
import { type FirstLook, findFront } from "../first-look/find-front.js";
import { pairStarts } from "../first-look/pair-starts.js";
import { SHUFFLES, shuffledOrder } from "../first-look/shuffled-order.js";
import { startMotions } from "../first-look/start-motions.js";
import { type BrightnessField, type PositionModel, residualField } from "../model/front-model.js";
import { type JointFit, jointFit } from "../model/joint-fit.js";
import { PositionFitter } from "../model/position-fitter.js";
import { lastingVariance } from "../model/residual-noise.js";
import type { FollowOptions } from "./follow-divided.js";

/** A fit that leaves less than this times the noise explains the streak. */
const ADEQUATE = 1.5;
/** Fits that leave up to this times the least are compared by the sureness of their motion. */
const COMPARABLE = 1.5;
/** Beside a fit that explains the streak, one that leaves this many times more is not followed to its end. */
const HOPELESS = 10;
/** What passes and leaves nothing must explain beyond a step, in units of the noise variance: five standard deviations. */
const PULSE_COST = 25;
/** What a moving front must explain beyond any change of all positions at once, in units of the noise variance,
 *  besides what its own levels explain of the noise: seven standard deviations of one parameter (common practice,
 *  no source). */
const LEAST_PROPAGATION = 50;

/** Where the noise averaged over many frames is this many times what it is from frame to frame, or cannot be told, a
 *  drift of single pixels can look like a front. Then the positions must change mostly in one sense, and the front
 *  must leave next to nothing of what no change at once explains, or must explain, or spare, this many times more
 *  than any that is found with the positions in another order. */
const LASTING = 1.5;
const LEAST_POLARITY = 0.5;
const NEXT_TO_NOTHING = 0.02;
const BEYOND_SHUFFLED = 1.5;

type FitOptions = Pick<FollowOptions, "sign" | "exposureFraction" | "pause">;

/** The joint fit that a first look leads to, or null where no motion explains more than one change of all positions
 *  at once, or, where the noise lasts, no more than is found with the positions in another order or than positions
 *  that change in different senses.
 *  @throws what `options.pause` throws */
export async function chooseFit(
  field: BrightnessField,
  frameNumbers: readonly number[],
  look: FirstLook,
  options: FitOptions,
): Promise<JointFit | null> {
  const variance = look.noise ** 2;
  const motion = await bestMotion(field, frameNumbers, look, options);
  const { best } = motion;
  if (!best) return null;
  const least = (LEAST_PROPAGATION + 2 * field.positions) * variance;
  if (motion.explainedAtLeast < least && motion.explained < least) return null;
  const lasting = lastingVariance(field, best.state, best.models, variance);
  if (lasting !== null && lasting < LASTING * variance) return best;
  if (onePolarity(best.models) < LEAST_POLARITY) return null;
  const { explained, left } = motion;
  if (left < NEXT_TO_NOTHING * explained) return best;
  for (const share of SHUFFLES) {
    const shuffled = shuffledPositions(field, share);
    const otherLook = findFront(shuffled, frameNumbers, look.noise, 0);
    const other = await bestMotion(shuffled, frameNumbers, otherLook, options);
    const isBeyond = explained > BEYOND_SHUFFLED * other.explained || other.left > BEYOND_SHUFFLED * left;
    if (!isBeyond) return null;
  }
  return best;
}

/** From this part on positions change in one sense: see `onePolarity`. */
export const ONE_SENSE = 0.7;

/** How far the positions change in the same sense, 0..1, each weighing as much as its change explains. */
export function onePolarity(models: readonly PositionModel[]): number {
  let sum = 0;
  let total = 0;
  for (const { change, inverse } of models) {
    if (!(inverse[2] > 0)) continue;
    sum += (change * Math.abs(change)) / inverse[2];
    total += change ** 2 / inverse[2];
  }
  return total > 0 ? Math.abs(sum) / total : 0;
}

/** The best fit from a first look. */
interface BestMotion {
  readonly best: JointFit | null;
  /** What no change of all positions at once explains of what it leaves, and what it explains beyond any such change: worked
   *  out when they are asked for. */
  readonly left: number;
  readonly explained: number;
  /** No more than `explained`, known at once. */
  readonly explainedAtLeast: number;
}

async function bestMotion(
  field: BrightnessField,
  frameNumbers: readonly number[],
  look: FirstLook,
  { sign, exposureFraction, pause }: FitOptions,
): Promise<BestMotion> {
  const starts = look.candidates.flatMap(({ shape, line }) =>
    startMotions(line, shape, frameNumbers, field.positions, exposureFraction),
  );
  const fits: JointFit[] = [];
  const fitter = new PositionFitter(field);
  const adequate = ADEQUATE * look.noise ** 2 * field.frames * field.positions;
  let mostLeft = Number.POSITIVE_INFINITY;
  for (const start of starts) {
    await pause();
    const fit = jointFit(field, frameNumbers, start, undefined, { fitter, mostLeft });
    if (fit.sumOfSquares < adequate) mostLeft = Math.min(mostLeft, HOPELESS * fit.sumOfSquares);
    fits.push(fit);
  }
  const samples = field.frames * field.positions;
  const single = surestFit(fits, look.noise ** 2, samples);
  // A pair has both polarities: where one is stated it is not what is looked for.
  if (sign === 0 && single?.motion.shape === "pulse")
    for (const start of pairStarts(single.motion, [...new Set(starts.map((one) => one.exposureFraction))])) {
      await pause();
      fits.push(jointFit(field, frameNumbers, start, undefined, { fitter, mostLeft: single.sumOfSquares }));
    }
  const best = surestFit(fits, look.noise ** 2, samples);
  const atOnce = sumOfSquaresAtOnce(field);
  if (!best) return { best, left: atOnce, explained: 0, explainedAtLeast: 0 };
  let left: number | null = null;
  const leftOf = () => {
    left ??= sumOfSquaresAtOnce(residualField(field, best.state, best.models));
    return left;
  };
  return {
    best,
    get left() {
      return leftOf();
    },
    get explained() {
      return atOnce - leftOf();
    },
    explainedAtLeast: atOnce - best.sumOfSquares,
  };
}

/** The field with its positions in another order, neighbours apart. */
function shuffledPositions({ data, frames, positions }: BrightnessField, share: number): BrightnessField {
  const order = shuffledOrder(positions, share);
  const shuffled = new Float64Array(data.length);
  for (let i = 0; i < frames; i++)
    for (let p = 0; p < positions; p++) shuffled[i * positions + p] = data[i * positions + order[p]];
  return { data: shuffled, frames, positions };
}

/** The fit that explains most, where it explains the streak down to its noise; else, where something besides the
 *  front changes (a drift of the light), of those that explain nearly as much the one whose motion is surest. A
 *  pulse is believed only where it explains clearly more than a step.
 *  @param noiseVariance  of a sample, from differences in time */
function surestFit(fits: readonly JointFit[], noiseVariance: number, samples: number): JointFit | null {
  const cost = ({ motion, sumOfSquares }: JointFit) =>
    sumOfSquares + (motion.shape !== "step" ? PULSE_COST * noiseVariance : 0);
  const closest = fits.reduce<JointFit | null>(
    (best, fit) => (!best || cost(fit) < cost(best) ? fit : best),
    null,
  );
  if (!closest || closest.sumOfSquares < ADEQUATE * noiseVariance * samples) return closest;
  return fits
    .filter((fit) => cost(fit) < COMPARABLE * cost(closest))
    .reduce((best, fit) => (fit.significance > best.significance ? fit : best));
}
