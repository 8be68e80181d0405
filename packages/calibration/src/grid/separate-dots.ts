import { median } from "../numbers/median.js";
import type { Field } from "../pictures/field.js";
import { fitShape, placeUncertainty, type Shape } from "../pictures/fit-shape.js";
import { type Samples, samplesAround } from "../pictures/samples-around.js";
import { blurredEllipse, blurredEllipseSlopes, sampleGrid } from "./blurred-ellipse.js";
import { type RefinedDot, semiAxesOf } from "./refine-dot.js";
import { ellipseOf } from "./spot.js";

/** Below this share of the smaller semi-axis a rim is as good as straight within its blur, and no neighbour is reached. */
const SHARP = 0.18;
/** A blurred dot reaches so many standard deviations beyond its rim. */
const REACH = 4.5;
const ROUNDS = 3;
/** In so many of them, the first, the blur is looked for; then it is held. */
const ROUNDS_FOR_BLUR = 2;
/** Dots whose blur is looked for. */
const FOR_BLUR = 9;

/** Dots so blurred that they run into each other: each fitted again to the samples around it less what its neighbours add
 *  to them, as an ellipse blurred by a Gaussian, in turn until they settle. The blur is that of all dots: of one it cannot be
 *  told from the size of the dot.
 *  @param radiiPixels  samples no farther than this from a dot are used
 *  @returns the dots as they are where they are sharp; null where one does not settle near its place */
export function separateDots(
  field: Field,
  dots: readonly RefinedDot[],
  radiiPixels: readonly number[],
): RefinedDot[] | null {
  const blur = median(dots.map(({ blurPixels }) => blurPixels));
  if (blur < SHARP * median(dots.map(({ semiAxesPixels }) => semiAxesPixels[1]))) return [...dots];
  let all: readonly RefinedDot[] = dots;
  for (let round = 0; round < ROUNDS; round++) {
    const others = all;
    const around = others.map((_, n) => alone(field, others, n, radiiPixels[n]));
    const common = round < ROUNDS_FOR_BLUR ? commonBlur(around, others) : others[0].blurPixels;
    const next = around.map((samples, n) => refineBlurredDot(samples, others[n], common));
    if (next.some((dot) => dot === null)) return null;
    all = next as RefinedDot[];
  }
  return [...all];
}

/** Median over some of the dots. */
function commonBlur(around: readonly Samples[], dots: readonly RefinedDot[]): number {
  const every = Math.max(1, Math.floor(dots.length / FOR_BLUR));
  const found = dots.flatMap((dot, n) => {
    const fit = n % every === 0 ? refineBlurredDot(around[n], dot, null) : null;
    return fit ? [fit.blurPixels] : [];
  });
  return median(found.length > 0 ? found : dots.map(({ blurPixels }) => blurPixels));
}

/** The samples around a dot without what the others add to them. */
function alone(field: Field, dots: readonly RefinedDot[], own: number, radiusPixels: number): Samples {
  const [x, y] = dots[own].place;
  const samples = samplesAround(field, dots[own].place, radiusPixels);
  const grid = sampleGrid(samples);
  const value = Float64Array.from(samples.value);
  dots.forEach(({ place, ellipse, blurPixels, semiAxesPixels, step }, n) => {
    const away = [place[0] - x, place[1] - y] as const;
    if (n === own || Math.hypot(...away) > radiusPixels + semiAxesPixels[0] + REACH * blurPixels) return;
    const added = blurredEllipse(grid, away, ellipse, blurPixels);
    for (let k = 0; k < value.length; k++) value[k] -= step * added[k];
  });
  return { ...samples, value };
}

/** @param blurHeld  px; null: looked for
 *  @returns null where the fit does not settle near the start */
function refineBlurredDot(samples: Samples, start: RefinedDot, blurHeld: number | null): RefinedDot | null {
  const { radiusPixels, value } = samples;
  const grid = sampleGrid(samples);
  const [a, b, c] = start.ellipse;
  const blurOf = (logBlur: number | undefined) => blurHeld ?? Math.exp(logBlur ?? 0);
  const figuresOf = ([x, y, logA, logB, skew, logBlur]: readonly number[]) =>
    [grid, [x, y], ellipseOf([logA, logB, skew], radiusPixels), blurOf(logBlur)] as const;
  const shape: Shape = (at) => blurredEllipse(...figuresOf(at)).map((inside) => 2 * inside - 1);
  const slopesOf = (at: readonly number[]) =>
    blurredEllipseSlopes(...figuresOf(at))
      .slice(0, at.length)
      .map((slopes, k) => slopes.map((slope) => (k === 4 ? (2 * slope) / radiusPixels : 2 * slope)));
  const outline = [Math.log(a * radiusPixels), Math.log(b * radiusPixels), c * radiusPixels];
  const parameters = [0, 0, ...outline, ...(blurHeld === null ? [Math.log(start.blurPixels)] : [])];
  const around = median(value.filter((_, n) => Math.hypot(samples.x[n], samples.y[n]) > 0.85 * radiusPixels));
  const half = start.step / 2;
  const fit = fitShape(samples, shape, { parameters, level: around + half, height: half }, slopesOf);
  if (!fit) return null;
  const [dx, dy, logA, logB, skew, logBlur] = fit.parameters;
  const ellipse = ellipseOf([logA, logB, skew], radiusPixels);
  const [longer, shorter] = semiAxesOf(ellipse);
  const isNear = Math.hypot(dx, dy) < radiusPixels / 2;
  if (!isNear || !(longer < radiusPixels && shorter > 0.5)) return null;
  return {
    place: [start.place[0] + dx, start.place[1] + dy],
    standardUncertaintyPixels: placeUncertainty(fit),
    blurPixels: blurOf(logBlur),
    semiAxesPixels: [longer, shorter],
    ellipse,
    step: 2 * fit.height,
    left: fit.rootMeanSquare,
  };
}
