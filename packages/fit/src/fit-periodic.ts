/** A periodic signal of unknown shape, fitted to values at uneven times. */
export interface PeriodicFit {
  /** Cycles in a unit of time. */
  readonly frequency: number;
  /** Of the frequency, from the residuals taken as independent. */
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number;
  /** Peak to peak of the periodic part at the times given. */
  readonly peakToPeak: number;
  /** Harmonics in the fit, the fundamental included. */
  readonly harmonics: number;
  /** What the periodic part explains beyond a straight line, as a share of the sum of squares about it. */
  readonly explained: number;
}

export interface PeriodicOptions {
  /** Range in which the frequency is looked for, cycles in a unit of time; beyond half a cycle between two times the
   *  alias that is meant is that in the range. */
  readonly from: number;
  readonly to: number;
  /** Harmonics tried at most. Default: 8. */
  readonly mostHarmonics?: number;
}

/** Frequencies tried to one over the length of the series. */
const OVERSAMPLED = 6;
const STEPS = 30;
const ROUNDS = 200;
/** Part of the length of a column below which the others hold all of it. */
const DEPENDENT = 1e-4;
/** The logarithm of the likelihood must grow by so much more than the free numbers and the search for the frequency
 *  account for: one series of noise in some hundred would. */
const SURE = 5;

/** Frequency of a periodic signal over a straight line: a search over the range, then least squares with as many
 *  harmonics as the data ask for (Bayesian information criterion).
 *  @param times  increasing, shape (N,)
 *  @param values  shape (N,)
 *  @returns null where nothing periodic is more than noise, or there are fewer than 12 values
 *  @throws RangeError where times and values do not fit together, or the range is none
 *  @see B. G. Quinn, E. J. Hannan, The Estimation and Tracking of Frequency (2001), ch. 2 (citation from memory) */
export function fitPeriodic(
  times: readonly number[] | Float64Array,
  values: readonly number[] | Float64Array,
  { from, to, mostHarmonics = 8 }: PeriodicOptions,
): PeriodicFit | null {
  const count = times.length;
  if (values.length !== count)
    throw new RangeError(`times and values must be of one length, got ${count} and ${values.length}`);
  if (!(from >= 0 && to > from))
    throw new RangeError(`the range must run from >= 0 upwards, got ${from} to ${to}`);
  if (count < 12) return null;
  const middle = (times[0] + times[count - 1]) / 2;
  const t = Float64Array.from(times, (time) => time - middle);
  const y = Float64Array.from(values);
  const line = orthonormal([t.map(() => 1), t]);
  const flat = without(y, line);
  const about = dot(flat, flat);
  if (!(about > 0)) return null;
  const span = t[count - 1] - t[0];
  const tried = Math.max(2, Math.ceil((to - from) * span * OVERSAMPLED));
  const start = strongest(t, flat, from, to, tried);
  let best: Settled | null = null;
  let least = count * Math.log(about);
  for (let harmonics = 1; harmonics <= mostHarmonics && 2 * harmonics + 3 < count / 2; harmonics++) {
    const fit = settled(t, y, best?.frequency ?? start, harmonics, (to - from) / tried);
    if (!fit) break;
    const free = 2 * harmonics + 1;
    const criterion = count * Math.log(Math.max(fit.squares, 1e-24 * about)) + free * Math.log(count);
    const asked = best ? 0 : 2 * (Math.log(tried) + SURE);
    if (criterion + asked < least) {
      best = fit;
      least = criterion;
    } else if (harmonics > (best?.harmonics ?? 0) + 2) break;
  }
  if (!best) return null;
  const degreesOfFreedom = count - best.free;
  return {
    frequency: best.frequency,
    standardUncertainty: Math.sqrt(best.squares / degreesOfFreedom / best.information),
    degreesOfFreedom,
    peakToPeak: best.peakToPeak,
    harmonics: best.harmonics,
    explained: 1 - best.squares / about,
  };
}

interface Settled {
  readonly frequency: number;
  readonly harmonics: number;
  readonly squares: number;
  /** Σ (change of the model by the frequency that nothing else makes)². */
  readonly information: number;
  readonly peakToPeak: number;
  readonly free: number;
}

/** The frequency of the greatest power. */
function strongest(t: Float64Array, flat: Float64Array, from: number, to: number, tried: number): number {
  let best = { frequency: from, power: -1 };
  for (let k = 0; k <= tried; k++) {
    const frequency = from + ((to - from) * k) / tried;
    const power = dot(flat, flat) - squaresLeft(flat, waves(t, frequency, 1));
    if (power > best.power) best = { frequency, power };
  }
  return best.frequency;
}

/** Gauss-Newton on the frequency, the linear numbers eliminated.
 *  @returns null where it leaves the neighbourhood of the start */
function settled(
  t: Float64Array,
  y: Float64Array,
  start: number,
  harmonics: number,
  reach: number,
): Settled | null {
  let frequency = start;
  for (let step = 0; step < STEPS; step++) {
    const { residual, slope, basis, periodic } = linearised(t, y, frequency, harmonics);
    const own = without(slope, basis);
    const information = dot(own, own);
    if (!(information > 0)) return null;
    const move = dot(own, residual) / information;
    frequency += Math.max(-reach, Math.min(reach, move));
    if (Math.abs(frequency - start) > 4 * reach || frequency <= 0) return null;
    if (Math.abs(move) > 1e-12 + 1e-4 * Math.sqrt(dot(residual, residual) / information / t.length)) continue;
    return {
      frequency,
      harmonics,
      squares: dot(residual, residual),
      information,
      peakToPeak: spread(periodic),
      free: basis.length + 1,
    };
  }
  return null;
}

/** The best model of a given frequency, and how it changes with it. */
function linearised(t: Float64Array, y: Float64Array, frequency: number, harmonics: number) {
  const line = [t.map(() => 1), t];
  const phase = waves(t, frequency, harmonics);
  const basis = orthonormal([...line, ...phase]);
  const residual = without(y, basis);
  const ofPhase = coefficients(
    y.map((value, n) => value - residual[n]),
    [...line, ...phase],
  ).subarray(line.length);
  const periodic = t.map((_, n) => phase.reduce((sum, wave, k) => sum + ofPhase[k] * wave[n], 0));
  // The periodic part is a function of frequency · time: its change by the frequency is that by the phase times the time.
  const slope = t.map((time, n) => {
    let sum = 0;
    for (let h = 1; h <= harmonics; h++) {
      const [cosine, sine] = [phase[2 * h - 2][n], phase[2 * h - 1][n]];
      sum += 2 * Math.PI * h * time * (ofPhase[2 * h - 1] * cosine - ofPhase[2 * h - 2] * sine);
    }
    return sum;
  });
  return { residual, slope, basis, periodic };
}

/** Cosines and sines of the harmonics, in turn. */
function waves(t: Float64Array, frequency: number, harmonics: number): Float64Array[] {
  return Array.from({ length: 2 * harmonics }, (_, k) => {
    const turn = 2 * Math.PI * ((k >> 1) + 1) * frequency;
    return k % 2 === 0 ? t.map((time) => Math.cos(turn * time)) : t.map((time) => Math.sin(turn * time));
  });
}

/** Coefficients of columns whose sum gives the values, by Gauss-Seidel steps on the normal equations; the columns are
 *  nearly at right angles. */
function coefficients(values: Float64Array, columns: readonly Float64Array[]): Float64Array {
  const of = new Float64Array(columns.length);
  const left = Float64Array.from(values);
  const enough = 1e-16 * dot(left, left);
  for (let round = 0; round < ROUNDS && dot(left, left) > enough; round++)
    columns.forEach((column, k) => {
      const size = dot(column, column);
      if (!(size > 1e-9)) return;
      const step = dot(column, left) / size;
      of[k] += step;
      for (let n = 0; n < left.length; n++) left[n] -= step * column[n];
    });
  return of;
}

/** Columns made orthonormal, those left out that the ones before hold. */
function orthonormal(columns: readonly Float64Array[]): Float64Array[] {
  const basis: Float64Array[] = [];
  for (const column of columns) {
    const size = Math.sqrt(dot(column, column));
    const own = without(without(column, basis), basis);
    const left = Math.sqrt(dot(own, own));
    if (left > DEPENDENT * size) basis.push(own.map((value) => value / left));
  }
  return basis;
}

function without(values: Float64Array, basis: readonly Float64Array[]): Float64Array {
  const left = Float64Array.from(values);
  for (const column of basis) {
    const part = dot(column, left);
    for (let n = 0; n < left.length; n++) left[n] -= part * column[n];
  }
  return left;
}

function squaresLeft(values: Float64Array, columns: readonly Float64Array[]): number {
  const left = without(values, orthonormal(columns));
  return dot(left, left);
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < a.length; n++) sum += a[n] * b[n];
  return sum;
}

function spread(values: Float64Array): number {
  return (
    values.reduce((most, value) => Math.max(most, value)) -
    values.reduce((least, value) => Math.min(least, value))
  );
}
