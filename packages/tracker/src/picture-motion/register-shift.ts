import { biweights } from "./biweights.js";
import { LEAST_SAMPLES, layOver } from "./lay-over.js";
import type { SplineLine } from "./spline-line.js";

/** One line of a picture laid over a texture that is known. */
export interface RegisteredShift {
  /** The line shows at p what the texture has at p − shift. */
  readonly shiftPixels: number;
  /** What a sample of the line bears on its shift, brightness and its even gradient projected out, DN/px; for the samples
   *  `from` to `to`, end exclusive. */
  readonly gradient: Float64Array;
  /** What the texture does not explain, DN; of the same samples. */
  readonly residual: Float64Array;
  /** 0..1: what departs far from the texture (a front, a glint) does not count. */
  readonly weight: Float64Array;
  readonly from: number;
  readonly to: number;
  /** Brightness = gain · texture + offset + ramp · place. */
  readonly light: { readonly gain: number; readonly offset: number; readonly ramp: number };
  /** What the texture explains of a sample, its light taken out, mean square. */
  readonly explained: number;
  /** Variance of the residuals. */
  readonly variance: number;
}

const STEPS = 20;
const SETTLED_PIXELS = 1e-4;
/** Part of its standard uncertainty below which a move says nothing. */
const SETTLED_PART = 0.1;
/** A far shift takes the place of a near one where it explains this many variances more: five standard deviations. */
const FAR_COST = 25;
const SEARCH_STEP_PIXELS = 0.5;
const SEARCH_SAMPLES = 100;

/** Shift of one line against a texture, to a fraction of a pixel, by Gauss-Newton steps. Gain, offset and an even
 *  gradient of the light are free, so that a lamp that flickers, or glow from afar, is no shift.
 *  @param line  shape (positions,)
 *  @param interval  samples of the line that show the texture undisturbed, end exclusive
 *  @param start  px, to search about
 *  @param reach  how far the search goes, px; 0: no search
 *  @returns null where too few samples show the texture, or none of it */
export function registerShift(
  texture: SplineLine,
  line: Float64Array,
  interval: readonly [from: number, to: number],
  start: number,
  reach: number,
): RegisteredShift | null {
  const near = refined(texture, line, interval, start);
  if (reach === 0) return near;
  let best: { readonly place: number; readonly sum: number } | null = null;
  for (let offset = -reach; offset <= reach; offset += SEARCH_STEP_PIXELS) {
    const mean = leftBy(texture, line, interval, start + offset);
    if (mean === null) continue;
    if (!best || mean < best.sum) best = { place: start + offset, sum: mean };
  }
  if (!best || Math.abs(best.place - start) < SEARCH_STEP_PIXELS) return near;
  const far = refined(texture, line, interval, best.place);
  if (!far || !near) return far ?? near;
  const count = Math.min(far.to - far.from, near.to - near.from);
  const spread = (registered: RegisteredShift) =>
    registered.residual.reduce((sum, r) => sum + r * r, 0) / registered.residual.length;
  return (spread(near) - spread(far)) * count > FAR_COST * far.variance ? far : near;
}

/** The same from shift 0, where the texture at rest explains most of what it can.
 *  @param least  the texture must explain this many times what it leaves at first; else null is returned */
export function registerAtRest(
  texture: SplineLine,
  line: Float64Array,
  interval: readonly [from: number, to: number],
  least: number,
): RegisteredShift | null {
  const there = layOver(texture, line, interval, 0, null);
  if (!there || there.explained * there.effective < least * there.sum) return null;
  return refined(texture, line, interval, 0, there);
}

function refined(
  texture: SplineLine,
  line: Float64Array,
  interval: readonly [number, number],
  start: number,
  first = layOver(texture, line, interval, start, null),
): RegisteredShift | null {
  let shift = start;
  let there = first;
  for (let step = 0; there; step++) {
    const { from, to, gradient, residual, weight, light, explained } = there;
    const { move, sum, effective, information } = there;
    const uncertainty = information > 0 ? Math.sqrt(sum / effective / information) : 0;
    // The first weights come after the first step.
    const isSettled = step > 0 && Math.abs(move) < Math.max(SETTLED_PIXELS, SETTLED_PART * uncertainty);
    if (isSettled || step === STEPS) {
      const variance = sum / Math.max(1, effective - 4);
      return { shiftPixels: shift, gradient, residual, weight, from, to, light, explained, variance };
    }
    shift += Math.max(-1, Math.min(1, move));
    there = layOver(texture, line, interval, shift, { from, weight: biweights(residual) });
  }
  return null;
}

/** What a shift leaves of the line, mean square, offset, ramp and gain being free: of some hundred of its samples.
 *  @returns null where too few samples show the texture */
function leftBy(
  texture: SplineLine,
  line: Float64Array,
  [wantedFrom, wantedTo]: readonly [number, number],
  shift: number,
): number | null {
  const from = Math.max(wantedFrom, Math.ceil(texture.first + shift));
  const to = Math.min(wantedTo, Math.floor(texture.last + shift) + 1);
  if (to - from < LEAST_SAMPLES) return null;
  const stride = Math.max(1, Math.floor((to - from) / SEARCH_SAMPLES));
  const count = Math.floor((to - 1 - from) / stride) + 1;
  const pattern = new Float64Array(count);
  texture.fill(from - shift, stride, pattern);
  // Covariances of place, pattern and line.
  const middle = (count - 1) / 2;
  let a = 0;
  let b = 0;
  for (let k = 0; k < count; k++) {
    a += pattern[k];
    b += line[from + k * stride];
  }
  a /= count;
  b /= count;
  let xx = 0;
  let xa = 0;
  let xb = 0;
  let aa = 0;
  let ab = 0;
  let bb = 0;
  for (let k = 0; k < count; k++) {
    const x = k - middle;
    const u = pattern[k] - a;
    const v = line[from + k * stride] - b;
    xx += x * x;
    xa += x * u;
    xb += x * v;
    aa += u * u;
    ab += u * v;
    bb += v * v;
  }
  aa -= (xa * xa) / xx;
  ab -= (xa * xb) / xx;
  bb -= (xb * xb) / xx;
  return (aa > 0 ? Math.max(0, bb - (ab * ab) / aa) : bb) / count;
}
