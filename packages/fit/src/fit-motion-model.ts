import { type Curve, fitNonlinear, type NonlinearFit } from "./fit-nonlinear.js";
import type { MotionForm } from "./motion-forms.js";
import type { MotionModelFit, SpeedAt } from "./motion-types.js";
import { inflatedFreedom, residualTests, varianceInflation } from "./residual-tests.js";
import { solveLeastSquares } from "./solve-least-squares.js";

/** How many of the best starts are followed to their end. */
const STARTS_FOLLOWED = 3;
/** Speeds are differences over this share of the observed range. */
const STEP = 1e-5;

/** One model through positions: for each shape to start from the linear parameters by QR, the best of these all parameters
 *  together. The covariance is that of independent errors times what residuals that wander together add: with the lag-one
 *  correlation r, f = (1 + r)/(1 − r), the residual variance over N − P f and N/f − P degrees of freedom; below 20 positions three
 *  times the variance. From 20 on it is at least that of the stated uncertainties.
 *  @param standardUncertainty  shape (N,), or null: unknown, the same for all
 *  @returns null where the positions do not determine the parameters */
export function fitMotionModel(
  form: MotionForm,
  times: readonly number[],
  positions: readonly number[],
  standardUncertainty: readonly number[] | null,
): MotionModelFit | null {
  const knownAt = (time: number) => form.known?.(time) ?? 0;
  const y = positions.map((position, i) => position - knownAt(times[i]));
  const numbersFitted = form.linear.length + form.shape.length;
  if (times.length <= numbersFitted) return null;
  const fitted = bestFit(form, times, y, standardUncertainty);
  if (!fitted) return null;

  const { parameters, chiSquared, residuals } = fitted;
  const weighted = residuals.map((r, i) => r / (standardUncertainty?.[i] ?? 1));
  const inflation = varianceInflation(weighted, numbersFitted);
  const degreesOfFreedom = inflatedFreedom(times.length, numbersFitted, inflation);
  const scatter =
    times.length < 20 ? chiSquared / degreesOfFreedom : chiSquared / (degreesOfFreedom * inflation);
  // Few residuals may be small by chance: the noise of the readings remains.
  const least = standardUncertainty ? (times.length < 20 ? 1 : inflation) : 0;
  const variance = Math.max(inflation * scatter, least);
  const covariance = fitted.unscaledCovariance.map((row) => row.map((value) => variance * value));

  const names = [...form.linear, ...form.shape];
  const named = names.flatMap((name, k) => (name === null ? [] : [{ name, k }]));
  const reported = (k: number) => parameters[k] + (form.reportedAfter?.[k] ?? 0);
  const step = STEP * (times[times.length - 1] - times[0]);
  const curve = (at: readonly number[]) => curveOf(form, at)(parameters);
  return {
    name: form.name,
    parameters: Object.fromEntries(
      named.map(({ name, k }) => [
        name,
        { value: reported(k), standardUncertainty: Math.sqrt(covariance[k][k]) },
      ]),
    ),
    covariance: named.map(({ k }) => named.map(({ k: other }) => covariance[k][other])),
    degreesOfFreedom,
    residuals,
    residualTests: residualTests(weighted, numbersFitted),
    chiSquared,
    numbersFitted,
    positionAt: (time) => curve([time]).values[0] + knownAt(time),
    speedAt: (time) => {
      const { values, derivatives } = curve([time - step, time + step]);
      const known = knownAt(time + step) - knownAt(time - step);
      const gradient = derivatives.map(([before, after]) => (after - before) / (2 * step));
      return speedOf((values[1] - values[0] + known) / (2 * step), gradient, covariance);
    },
  };
}

function speedOf(
  value: number,
  gradient: readonly number[],
  covariance: readonly (readonly number[])[],
): SpeedAt {
  const variance = gradient.reduce(
    (sum, g, k) => sum + g * gradient.reduce((inner, h, m) => inner + h * covariance[k][m], 0),
    0,
  );
  return { value, standardUncertainty: Math.sqrt(Math.max(0, variance)) };
}

function bestFit(
  form: MotionForm,
  times: readonly number[],
  y: readonly number[],
  standardUncertainty: readonly number[] | null,
): NonlinearFit | null {
  const weight = (i: number) => 1 / (standardUncertainty?.[i] ?? 1);
  const starts = form.starts.flatMap((shape) => {
    const rows = times.map((t, i) => form.basis(t, shape).map((value) => value * weight(i)));
    const solved = solveLeastSquares(
      form.linear.map((_, k) => rows.map((row) => row[k])),
      y.map((value, i) => value * weight(i)),
    );
    return solved ? [{ start: [...solved.solution, ...shape], left: solved.sumOfSquares }] : [];
  });
  const ends = starts
    .sort((a, b) => a.left - b.left)
    .slice(0, STARTS_FOLLOWED)
    .flatMap(({ start }) => {
      const options = standardUncertainty ? { standardUncertainty } : {};
      const end = fitNonlinear(curveOf(form, times), y, start, { ...options, mostSteps: 200 });
      return end?.converged ? [end] : [];
    });
  return ends.sort((a, b) => a.chiSquared - b.chiSquared)[0] ?? null;
}

/** The model's course at some times, as a function of its parameters, linear ones first. */
function curveOf(form: MotionForm, times: readonly number[]) {
  const count = form.linear.length;
  return (parameters: readonly number[]): Curve => {
    const linear = parameters.slice(0, count);
    const shape = parameters.slice(count);
    if (!form.isAllowed(shape)) return { values: times.map(() => Number.NaN), derivatives: [] };
    const basis = times.map((t) => form.basis(t, shape));
    const slopes = times.map((t) => form.basisSlopes(t, shape));
    const sum = (courses: readonly number[]) =>
      courses.reduce((total, course, k) => total + course * linear[k], 0);
    return {
      values: basis.map(sum),
      derivatives: [
        ...linear.map((_, k) => basis.map((courses) => courses[k])),
        ...shape.map((_, m) => slopes.map((courses) => sum(courses[m]))),
      ],
    };
  };
}
