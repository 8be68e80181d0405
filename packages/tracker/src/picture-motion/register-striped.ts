import { addScaled } from "./add-scaled.js";
import { biweights } from "./biweights.js";
import { between, type StripedPicture, type StripedShift } from "./striped-texture.js";

/** A striped picture laid over a texture that is known. */
export interface RegisteredPicture {
  readonly shift: StripedShift;
  /** What a sample bears on the shift across, DN a strip, all else projected out; samples of all strips in turn. */
  readonly gradient: Float64Array;
  /** DN; of the same samples. */
  readonly residual: Float64Array;
  readonly weight: Float64Array;
  /** Place of each sample along the texture, px. */
  readonly place: Float64Array;
  readonly light: { readonly gain: number; readonly offset: number; readonly ramp: number };
  /** Variance of the residuals, and what the texture explains, mean square. */
  readonly variance: number;
  readonly explained: number;
  /** What the next step would move, px and strips. */
  readonly move: StripedShift;
}

const STEPS = 4;
/** So many samples of a strip tell its shift well enough. */
const SAMPLES = 160;
const LEAST_SAMPLES = 24;
/** The search goes so far along and across, px and strips; a far place must leave this part of what the near one does. */
const SEARCH = 3;
const FAR_LEAVES = 0.8;

/** Shift of a striped picture against a texture, along the path and across it, by Gauss-Newton steps; gain, offset and an
 *  even gradient of the light are free.
 *  @param lines  of the picture, shape (strips,) of (positions,)
 *  @param interval  samples that show the texture undisturbed, end exclusive
 *  @param search  looks about `start` first
 *  @returns null where too few samples show the texture */
export function registerStriped(
  texture: StripedPicture,
  lines: readonly Float64Array[],
  interval: readonly [from: number, to: number],
  start: StripedShift,
  { search = false, steps = STEPS }: { search?: boolean; steps?: number } = {},
): RegisteredPicture | null {
  let shift = search ? searched(texture, lines, interval, start) : start;
  let last: RegisteredPicture | null = null;
  for (let step = 0; step <= steps; step++) {
    const there = layOverStriped(texture, lines, interval, shift, last);
    if (!there) return null;
    last = there;
    if (step === steps) break;
    const [along, across] = there.move;
    shift = [shift[0] + clamped(along), shift[1] + clamped(across)];
    if (Math.abs(along) < 0.003 && Math.abs(across) < 0.003 && step > 0) break;
  }
  return last;
}

function clamped(move: number): number {
  return Math.max(-1, Math.min(1, move));
}

function searched(
  texture: StripedPicture,
  lines: readonly Float64Array[],
  interval: readonly [number, number],
  start: StripedShift,
): StripedShift {
  const leftAt = (shift: StripedShift) => {
    const sampled = samplesOf(texture, lines, interval, shift, 4);
    if (!sampled) return Number.POSITIVE_INFINITY;
    const { pattern, value } = sampled;
    const n = value.length;
    const [a, b] = [pattern, value].map((of) => of.reduce((sum, v) => sum + v, 0) / n);
    let [ab, aa, bb] = [0, 0, 0];
    for (let k = 0; k < n; k++) {
      ab += (pattern[k] - a) * (value[k] - b);
      aa += (pattern[k] - a) ** 2;
      bb += (value[k] - b) ** 2;
    }
    return ab > 0 && aa > 0 ? (bb - (ab * ab) / aa) / n : bb / n;
  };
  const near = leftAt(start);
  let best = { shift: start, left: FAR_LEAVES * near };
  for (let x = -SEARCH; x <= SEARCH; x++)
    for (let y = -SEARCH; y <= SEARCH; y++) {
      const shift = [start[0] + x, start[1] + y] as const;
      const left = leftAt(shift);
      if (left < best.left) best = { shift, left };
    }
  return best.shift;
}

/** What the texture shows at the samples of the lines, thinned to some hundred a strip. */
function samplesOf(
  texture: StripedPicture,
  lines: readonly Float64Array[],
  [wantedFrom, wantedTo]: readonly [number, number],
  [along, across]: StripedShift,
  thinning = 1,
) {
  const parts = lines.map((_, k) => between(texture, k - across));
  const shown = parts.flatMap((of) => of ?? []);
  if (shown.length === 0) return null;
  const from = Math.max(wantedFrom, Math.ceil(Math.max(...shown.map(({ line }) => line.first)) + along));
  const to = Math.min(wantedTo, Math.floor(Math.min(...shown.map(({ line }) => line.last)) + along) + 1);
  const stride = thinning * Math.max(1, Math.round((to - from) / SAMPLES));
  const each = Math.floor((to - 1 - from) / stride) + 1;
  const strips = parts.filter((of) => of !== null).length;
  const count = strips * each;
  if (to - from < LEAST_SAMPLES / 2 || count * thinning < LEAST_SAMPLES) return null;
  const [place, pattern, byAlong, byAcross, value] = Array.from({ length: 5 }, () => new Float64Array(count));
  const [values, slopes] = [new Float64Array(each), new Float64Array(each)];
  let at = 0;
  parts.forEach((of, k) => {
    if (!of) return;
    takeSamples(lines[k], from, stride, along, place.subarray(at, at + each), value.subarray(at, at + each));
    for (const { line, weight, slope } of of) {
      const isThin = thinning > 1;
      if (weight === 0 && (isThin || slope === 0)) continue;
      line.fill(from - along, stride, values, isThin || weight === 0 ? undefined : slopes);
      addScaled(pattern, at, values, weight);
      if (isThin) continue;
      if (weight !== 0) addScaled(byAlong, at, slopes, -weight);
      addScaled(byAcross, at, values, -slope);
    }
    at += each;
  });
  return { place, pattern, byAlong, byAcross, value, count };
}

/** Every `stride`-th sample of a line from one on, and its place along the texture. */
function takeSamples(
  line: Float64Array,
  from: number,
  stride: number,
  along: number,
  place: Float64Array,
  value: Float64Array,
): void {
  for (let n = 0, p = from; n < place.length; n++, p += stride) {
    place[n] = p - along;
    value[n] = line[p];
  }
}

function layOverStriped(
  texture: StripedPicture,
  lines: readonly Float64Array[],
  interval: readonly [number, number],
  shift: StripedShift,
  last: RegisteredPicture | null,
): RegisteredPicture | null {
  const sampled = samplesOf(texture, lines, interval, shift);
  if (!sampled) return null;
  const { place, pattern, byAlong, byAcross, value, count } = sampled;
  const weight = weightsOf(last, count);
  const ones = new Float64Array(count).fill(1);
  const effective = weighedProduct(weight, ones, ones);
  if (effective < LEAST_SAMPLES) return null;
  const basis: { readonly of: Float64Array; readonly square: number }[] = [];
  const addToBasis = (of: Float64Array) => basis.push({ of, square: weighedProduct(weight, of, of) });
  /** Takes out of `vector` what lies along the basis; coefficients. */
  const reduce = (vector: Float64Array) =>
    basis.map(({ of, square }) => {
      const share = square > 0 ? weighedProduct(weight, of, vector) / square : 0;
      addScaled(vector, 0, of, -share);
      return share;
    });
  const middle = (lines[0].length - 1) / 2;
  const ramp = place.slice();
  addScaled(ramp, 0, ones, shift[0] - middle);
  addToBasis(ones);
  const [rampMean] = reduce(ramp);
  addToBasis(ramp);
  const [patternMean, patternRamp] = reduce(pattern);
  addToBasis(pattern);
  reduce(byAlong);
  addToBasis(byAlong);
  const ties = reduce(byAcross);
  addToBasis(byAcross);
  const [mean, slope, gain, moveAlong, moveAcross] = reduce(value);
  const bounded = Math.max(0.5, Math.min(2, gain));
  const lightRamp = slope - bounded * patternRamp;
  const sum = weighedProduct(weight, value, value);
  return {
    shift,
    gradient: byAcross,
    residual: value,
    weight,
    place,
    move: [(moveAlong - moveAcross * ties[3]) / bounded, moveAcross / bounded],
    light: { gain: bounded, ramp: lightRamp, offset: mean - bounded * patternMean - lightRamp * rampMean },
    variance: sum / Math.max(1, effective - 5),
    explained: (bounded ** 2 * weighedProduct(weight, pattern, pattern)) / effective,
  };
}

/** Σ weight · a · b. */
export function weighedProduct(weight: Float64Array, a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < weight.length; k++) sum += weight[k] * a[k] * b[k];
  return sum;
}

/** Of the samples, where the shift has not changed how many there are; else all alike. */
function weightsOf(last: RegisteredPicture | null, count: number): Float64Array {
  return last?.residual.length === count ? biweights(last.residual) : new Float64Array(count).fill(1);
}
