import { checkSeries, eachUncertainty } from "./check-series.js";
import { fitMotionModel } from "./fit-motion-model.js";
import { type MotionForm, motionForms } from "./motion-forms.js";
import type { MotionFit, MotionModelFit, MotionOptions, TriedModel } from "./motion-types.js";
import { varianceInflation } from "./residual-tests.js";

/** Models whose AICc is this little above the least are as good. */
const AS_GOOD = 2;
/** Residuals below this share of the positions' range are rounding. */
const ROUNDING = 1e-12;

/** How positions depend on time: the model asked for, or the simplest that explains them.
 *
 *  `auto` compares all models by Akaike's criterion for few data, AICc = (N/f) ln(χ²/N) + 2K + 2K(K + 1)/(N − K − 1), K the
 *  numbers fitted and one for the variance, f = (1 + r)/(1 − r) for the lag-one correlation r of what the best model leaves (residuals that
 *  wander together are worth fewer; below 20 positions f = 3). Of the models within 2 of the least the one of fewest numbers is
 *  chosen, and how far the others are apart from it, weighed by exp(−AICc/2), is an uncertainty of its own.
 *  @param times  shape (N,), N >= 3, strictly increasing; gaps allowed
 *  @param positions  shape (N,): along the direction of motion, going up on the whole. For a power law they are distances from where
 *    it started, > 0; otherwise that model is not tried
 *  @throws RangeError on values that are not so, and where the positions do not determine a model that was asked for
 *  @see Burnham and Anderson, Model Selection and Multimodel Inference (Springer, 2002), 2.4, 2.6 (citation from memory) */
export function fitMotion(
  times: readonly number[],
  positions: readonly number[],
  options: MotionOptions = {},
): MotionFit {
  const { model = "auto" } = options;
  const standardUncertainty = checkMotion(times, positions, options);
  const forms = motionForms(times, positions, options);
  const wanted = model === "auto" ? forms : forms.filter(({ name }) => name === model);
  if (wanted.length === 0) throw new RangeError(`model ${model} cannot be tried: ${whyNot(model)}`);
  const fits = wanted.map((form) => ({
    form,
    fit: fitMotionModel(form, times, positions, standardUncertainty),
  }));
  const determined = fits.flatMap(({ fit }) => (fit ? [fit] : []));
  if (determined.length === 0)
    throw new RangeError(
      `model ${model} must be determined by the positions, got ${times.length} that do not`,
    );
  const scored = score(
    determined,
    times.length,
    (positions[positions.length - 1] - positions[0]) * ROUNDING,
    standardUncertainty,
  );
  const near = scored.filter(({ above }) => above <= AS_GOOD);
  const chosen = near.reduce((best, one) =>
    one.fit.numbersFitted < best.fit.numbersFitted ||
    (one.fit.numbersFitted === best.fit.numbersFitted && one.above < best.above)
      ? one
      : best,
  );
  const time = (times[0] + times[times.length - 1]) / 2;
  const speed = chosen.fit.speedAt(time);
  const weights = near.map(({ above }) => Math.exp(-above / 2));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const spread = near.reduce(
    (sum, { fit }, k) => sum + (weights[k] / total) * (fit.speedAt(time).value - speed.value) ** 2,
    0,
  );
  return {
    model: chosen.fit,
    speed: {
      ...speed,
      time,
      degreesOfFreedom: chosen.fit.degreesOfFreedom,
      modelChoiceUncertainty: Math.sqrt(spread),
    },
    tried: fits.map(({ form, fit }) =>
      verdictOf(form, scored.find((one) => one.fit === fit) ?? null, chosen, time, times.length),
    ),
  };
}

interface Scored {
  readonly fit: MotionModelFit;
  /** AICc less the least. */
  readonly above: number;
}

function score(
  fits: readonly MotionModelFit[],
  count: number,
  rounding: number,
  standardUncertainty: readonly number[] | null,
): Scored[] {
  const weight = (i: number) => 1 / (standardUncertainty?.[i] ?? 1);
  const best = fits.reduce((least, fit) => (fit.chiSquared < least.chiSquared ? fit : least));
  const inflation = varianceInflation(
    best.residuals.map((r, i) => r * weight(i)),
    best.numbersFitted,
  );
  const floor = best.residuals.reduce((sum, _, i) => sum + (rounding * weight(i)) ** 2, 0);
  const aicc = fits.map(({ chiSquared, numbersFitted }) => {
    const k = numbersFitted + 1;
    if (count <= k + 1) return Number.POSITIVE_INFINITY;
    const misfit = (count / inflation) * Math.log(Math.max(chiSquared, floor) / count);
    return misfit + 2 * k + (2 * k * (k + 1)) / (count - k - 1);
  });
  const least = Math.min(...aicc);
  return fits.map((fit, i) => ({
    fit,
    above: Number.isFinite(least) ? aicc[i] - least : fit === fits[0] ? 0 : Number.POSITIVE_INFINITY,
  }));
}

function verdictOf(
  form: MotionForm,
  scored: Scored | null,
  chosen: Scored,
  time: number,
  count: number,
): TriedModel {
  const { name } = form;
  if (!scored)
    return {
      name,
      verdict: "not-determined",
      aiccAboveLeast: null,
      residualStandardDeviation: null,
      speed: null,
    };
  const { fit, above } = scored;
  return {
    name,
    verdict: scored === chosen ? "chosen" : above <= AS_GOOD ? "as-good" : "rejected",
    aiccAboveLeast: Number.isFinite(above) ? above : null,
    residualStandardDeviation: Math.sqrt(fit.chiSquared / (count - fit.numbersFitted)),
    speed: fit.speedAt(time).value,
  };
}

function whyNot(model: string): string {
  if (model === "power-law") return "positions must be distances from where it started, > 0";
  if (model === "decaying-shock") return "soundSpeed must be given";
  return "there must be more than 6 positions";
}

/** @returns one standard uncertainty for each position, or null */
function checkMotion(
  times: readonly number[],
  positions: readonly number[],
  { standardUncertainty, startTime, soundSpeed }: MotionOptions,
): readonly number[] | null {
  checkSeries(times, positions);
  const [from, to] = [positions[0], positions[positions.length - 1]];
  if (!(to > from))
    throw new RangeError(
      `positions must go up on the whole, got ${from} to ${to}: turn their sign for a front that runs the other way`,
    );
  if (startTime !== undefined && !(startTime < times[0]))
    throw new RangeError(`startTime must be before the first time, ${times[0]}, got ${startTime}`);
  if (soundSpeed !== undefined && !(soundSpeed > 0 && soundSpeed < Number.POSITIVE_INFINITY))
    throw new RangeError(`soundSpeed must be finite and > 0, got ${soundSpeed}`);
  return eachUncertainty(standardUncertainty, times.length);
}
