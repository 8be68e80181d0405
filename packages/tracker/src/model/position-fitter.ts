import { type DriftingLevels, driftingLevels, fitDriftingLevels } from "./drifting-levels.js";
import { type ProfileSample, profileReach, sampleProfile } from "./edge-profile.js";
import type { BrightnessField, Drift, FrontState, PositionModel } from "./front-model.js";
import { type SumsInTime, squaresBetween, sumBefore, sumsInTime } from "./sums-in-time.js";

/** A position whose profile varies less than this over the take, Σ(T − mean)², tells nothing of its change. */
const LEAST_VARIATION = 1e-7;
/** Below this the change is told, but by so little that it would lend the front the noise of its own estimate: it is
 *  fitted, so that the sum of squares has no jumps where the front comes near a position, and bears no information
 *  on the front. */
const LEAST_INFORMATIVE_VARIATION = 1e-3;

/** Eliminates the levels before and after, one position of a field after the other, for one state of the front after
 *  the other. Frames far from the front are known by their sums alone, and nothing is allocated between two fits:
 *  this is where the time of a measurement goes. What stands here is that of the position fitted last. */
export class PositionFitter {
  /** Frames near the front, and there: profile, its derivatives times the change, residual; the first `nearCount`. */
  nearCount = 0;
  readonly near: Int32Array;
  readonly value: Float64Array;
  readonly byFront: Float64Array;
  readonly byLogBlur: Float64Array;
  readonly residual: Float64Array;
  before = 0;
  change = 0;
  sumOfSquares = 0;
  /** Inverse of [[n, ΣT], [ΣT, ΣT²]] as [a, b, c] for [[a, b], [b, c]]. */
  readonly inverse: [number, number, number] = [0, 0, 0];
  /** Where levels drift; else null. */
  drifting: NonNullable<PositionModel["drifting"]> | null = null;
  /** Of every position that was fitted with levels that drift: these do not change with the front's state. */
  private readonly levels: ((DriftingLevels & Pick<Drift, "ahead">) | undefined)[] = [];
  private position = 0;
  private count = 0;

  private readonly sums: SumsInTime;
  /** Over the frames that count: sums up to them and to their end, and of squares; shapes (positions,). */
  private readonly toFirst: Float64Array;
  private readonly toEnd: Float64Array;
  private readonly squares: Float64Array;
  private readonly sample: ProfileSample = { value: 0, byDistance: 0, byLogBlur: 0 };

  private state: FrontState | null = null;
  private reach = 0;
  /** How far the front has come at most up to each frame, and at least from each frame on, in its own sense. */
  private readonly farthest: Float64Array;
  private readonly nearest: Float64Array;

  constructor(private readonly field: BrightnessField) {
    const { data, frames, positions, window } = field;
    this.near = new Int32Array(frames);
    this.value = new Float64Array(frames);
    this.byFront = new Float64Array(frames);
    this.byLogBlur = new Float64Array(frames);
    this.residual = new Float64Array(frames);
    this.farthest = new Float64Array(frames);
    this.nearest = new Float64Array(frames);
    const sums = sumsInTime(data, frames, positions);
    this.sums = sums;
    this.toFirst = new Float64Array(positions);
    this.toEnd = sums.total;
    this.squares = sums.squares;
    if (!window) return;
    const { first, end } = window;
    this.toFirst = this.toFirst.map((_, p) => sumBefore(sums, data, p, first[p]));
    this.toEnd = this.toFirst.map((_, p) => sumBefore(sums, data, p, end[p]));
    this.squares = this.toFirst.map((_, p) => squaresBetween(sums, data, p, first[p], end[p]));
  }

  /** Takes up a state of the front. */
  begin(state: FrontState): void {
    const { sense, frontPixels, blurPixels, smearPixels, form } = state;
    const { frames } = this.field;
    this.state = state;
    this.reach = profileReach(blurPixels, smearPixels, form);
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < frames; i++) this.farthest[i] = most = Math.max(most, sense * frontPixels[i]);
    let least = Number.POSITIVE_INFINITY;
    for (let i = frames - 1; i >= 0; i--) this.nearest[i] = least = Math.min(least, sense * frontPixels[i]);
  }

  /** Fits one position under the state that was taken up. */
  fit(position: number): void {
    const { field, state, reach, sample, near, value, byFront, byLogBlur, residual, inverse } = this;
    if (!state) throw new Error("no state of the front was taken up");
    const { data, frames, positions, window } = field;
    const { sums } = this;
    const mean = sums.means[position];
    const { shape, sense, frontPixels, blurPixels, smearPixels, form, alike } = state;
    const first = window ? window.first[position] : 0;
    const end = window ? window.end[position] : frames;
    const count = end - first;
    const behindLevel = shape === "step" ? 1 : 0;
    // Up to `from` the front is far ahead of reaching the position, from `to` on it is far past it.
    const from = Math.max(first, firstAbove(this.farthest, sense * position - reach, first, end));
    const to = Math.max(from, firstAbove(this.nearest, sense * position + reach, first, end));
    const sumTo = this.toEnd[position];
    let sumT = behindLevel * (end - to);
    let sumTT = sumT;
    let sumYT = behindLevel > 0 ? sumTo - sumBefore(sums, data, position, to) : 0;
    let n = 0;
    for (let i = from; i < to; i++) {
      const behind = sense * (frontPixels[i] - position);
      let t = 0;
      if (behind > reach) t = behindLevel;
      else if (behind > -reach) {
        sampleProfile(shape, behind, blurPixels, smearPixels, sample, form);
        t = sample.value;
        near[n] = i;
        value[n] = t;
        byFront[n] = sense * sample.byDistance;
        byLogBlur[n] = sample.byLogBlur;
        n++;
      }
      sumT += t;
      sumTT += t * t;
      sumYT += (data[i * positions + position] - mean) * t;
    }
    if (window?.drift) {
      this.fitDrifting(state, window.drift, { position, first, end, from, to, n });
      return;
    }
    const sumY = sumTo - this.toFirst[position];
    let sumYY = this.squares[position];
    if (alike) {
      // What is known of the change beforehand counts like one more sample of it.
      sumTT += alike.precision;
      sumYT += alike.precision * alike.change;
      sumYY += alike.precision * alike.change ** 2;
    }
    const variation = count > 0 ? sumTT - (sumT * sumT) / count : 0;
    const determinant = count * variation;
    const told = variation > LEAST_VARIATION;
    inverse[0] = told ? sumTT / determinant : count > 0 ? 1 / count : 0;
    inverse[1] = told ? -sumT / determinant : 0;
    inverse[2] = told ? count / determinant : 0;
    const before = inverse[0] * sumY + inverse[1] * sumYT;
    const change = inverse[1] * sumY + inverse[2] * sumYT;
    const borne = variation > LEAST_INFORMATIVE_VARIATION ? change : 0;
    for (let k = 0; k < n; k++) {
      byFront[k] *= borne;
      byLogBlur[k] *= borne;
      residual[k] = data[near[k] * positions + position] - mean - before - change * value[k];
    }
    this.position = position;
    this.count = count;
    this.nearCount = n;
    this.before = before + mean;
    this.change = change;
    this.sumOfSquares = Math.max(0, sumYY - before * sumY - change * sumYT);
  }

  /** The same with levels that drift, once the frames near the front and its profile in them are known. */
  private fitDrifting(
    { shape, sense, frontPixels }: FrontState,
    drift: (position: number) => Drift,
    {
      position,
      first,
      end,
      from,
      to,
      n,
    }: Readonly<Record<"position" | "first" | "end" | "from" | "to" | "n", number>>,
  ): void {
    const { near, value, byFront, byLogBlur, residual, inverse } = this;
    const count = end - first;
    this.levels[position] ??= this.levelsAt(position, first, end, drift(position));
    const { ahead } = this.levels[position];
    const profile = new Float64Array(count);
    for (let i = from, k = 0; i < end; i++) {
      if (k < n && near[k] === i) profile[i - first] = value[k++];
      else if (shape === "step")
        profile[i - first] = i >= to || sense * (frontPixels[i] - position) > 0 ? 1 : 0;
    }
    if (ahead) for (let k = 0; k < count; k++) profile[k] += ahead[k];
    const fit = fitDriftingLevels(this.levels[position], profile);
    const { change, changeVariance, basis } = fit;
    const borne = changeVariance < 1 / LEAST_INFORMATIVE_VARIATION ? change : 0;
    for (let k = 0; k < n; k++) {
      byFront[k] *= borne;
      byLogBlur[k] *= borne;
      residual[k] = fit.residual[near[k] - first];
    }
    inverse[0] = count > 0 ? 1 / count : 0;
    inverse[1] = 0;
    inverse[2] = changeVariance;
    this.position = position;
    this.count = count;
    this.nearCount = n;
    this.before = this.sums.means[position];
    this.change = change;
    this.sumOfSquares = fit.residual.reduce((sum, left) => sum + left * left, 0);
    this.drifting = {
      basis: basis.map((column) => Array.from(near.subarray(0, n), (i) => column[i - first])),
      left: fit.residual,
    };
  }

  private levelsAt(
    position: number,
    first: number,
    end: number,
    { columns, ahead }: Drift,
  ): DriftingLevels & Pick<Drift, "ahead"> {
    const { data, positions } = this.field;
    const mean = this.sums.means[position];
    const samples = new Float64Array(end - first);
    for (let i = first; i < end; i++) samples[i - first] = data[i * positions + position] - mean;
    const within = (column: Float64Array) => column.subarray(first, end);
    return {
      ...driftingLevels(samples, columns.map(within)),
      ...(ahead && { ahead: within(ahead) }),
    };
  }

  /** The position fitted last, to keep. */
  model(): PositionModel {
    const { position, count, before, change, inverse, sumOfSquares, nearCount } = this;
    const kept = (of: Float64Array | Int32Array) => Array.from(of.subarray(0, nearCount));
    return {
      position,
      count,
      before,
      change,
      inverse: [...inverse],
      sumOfSquares,
      near: kept(this.near),
      value: kept(this.value),
      byFront: kept(this.byFront),
      byLogBlur: kept(this.byLogBlur),
      residual: kept(this.residual),
      ...(this.drifting && { drifting: this.drifting }),
    };
  }
}

/** First place from `first` on, before `end`, whose value is above a limit, of values that nowhere fall; else `end`. */
function firstAbove(values: Float64Array, limit: number, first: number, end: number): number {
  let low = first;
  let high = end;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle] > limit) high = middle;
    else low = middle + 1;
  }
  return low;
}
