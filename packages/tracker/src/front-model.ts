import { type ProfileSample, type ProfileShape, profileReach, sampleProfile } from "./edge-profile.js";

/** Brightness against frame and position, row-major, shape [frames, positions]. */
export interface BrightnessField {
  readonly data: Float64Array;
  readonly frames: number;
  readonly positions: number;
  /** Frames that count at each position, `first` to `end` (exclusive), shapes (positions,). Default: all of them. */
  readonly window?: { readonly first: Int32Array; readonly end: Int32Array };
}

/** Where the front is in each frame, and how it looks. */
export interface FrontState {
  readonly shape: ProfileShape;
  /** +1 where the front runs towards larger positions, −1 towards smaller. */
  readonly sense: 1 | -1;
  /** px, shape (frames,) */
  readonly frontPixels: Float64Array;
  readonly blurPixels: number;
  /** px over which exposure and tilt spread the front evenly */
  readonly smearPixels: number;
}

/** One position of the streak under the model brightness = before + change · profile. */
export interface PositionModel {
  readonly position: number;
  /** Frames that count here. */
  readonly count: number;
  readonly before: number;
  readonly change: number;
  /** Inverse of [[n, ΣT], [ΣT, ΣT²]] as [a, b, c] for [[a, b], [b, c]]; zeros where the profile does not vary
   *  here, so that the change cannot be told. */
  readonly inverse: readonly [number, number, number];
  readonly sumOfSquares: number;
  /** Frames in which the front is near enough to matter, and there: profile, its derivatives, residual. */
  readonly near: readonly number[];
  readonly value: readonly number[];
  readonly byFront: readonly number[];
  readonly byLogBlur: readonly number[];
  readonly residual: readonly number[];
}

/** A position whose profile varies less than this over the take, Σ(T − mean)², tells nothing of its change. */
const LEAST_VARIATION = 1e-7;
/** Below this the change is told, but by so little that it would lend the front the noise of its own estimate: it is
 *  fitted, so that the sum of squares has no jumps where the front comes near a position, and bears no information
 *  on the front. */
const LEAST_INFORMATIVE_VARIATION = 1e-3;

/** Eliminates the levels before and after at one position by linear least squares and returns what is left. */
export function modelPosition(field: BrightnessField, state: FrontState, position: number): PositionModel {
  const { data, frames, positions, window } = field;
  const { shape, sense, frontPixels, blurPixels, smearPixels } = state;
  const first = window ? window.first[position] : 0;
  const end = window ? window.end[position] : frames;
  const count = end - first;
  const reach = profileReach(blurPixels, smearPixels);
  const behindLevel = shape === "step" ? 1 : 0;
  const near: number[] = [];
  const value: number[] = [];
  const byFront: number[] = [];
  const byLogBlur: number[] = [];
  let sumT = 0;
  let sumTT = 0;
  let sumY = 0;
  let sumYT = 0;
  let sumYY = 0;
  const sample: ProfileSample = { value: 0, byDistance: 0, byLogBlur: 0 };
  for (let i = first, at = first * positions + position; i < end; i++, at += positions) {
    const y = data[at];
    const behind = sense * (frontPixels[i] - position);
    let t = 0;
    if (behind > reach) t = behindLevel;
    else if (behind > -reach) {
      sampleProfile(shape, behind, blurPixels, smearPixels, sample);
      t = sample.value;
      near.push(i);
      value.push(t);
      byFront.push(sense * sample.byDistance);
      byLogBlur.push(sample.byLogBlur);
    }
    sumT += t;
    sumTT += t * t;
    sumY += y;
    sumYT += y * t;
    sumYY += y * y;
  }
  const variation = count > 0 ? sumTT - (sumT * sumT) / count : 0;
  const told = variation > LEAST_VARIATION;
  const isInformative = variation > LEAST_INFORMATIVE_VARIATION;
  const determinant = count * variation;
  const inverse = told
    ? ([sumTT / determinant, -sumT / determinant, count / determinant] as const)
    : ([count > 0 ? 1 / count : 0, 0, 0] as const);
  const before = inverse[0] * sumY + inverse[1] * sumYT;
  const change = inverse[1] * sumY + inverse[2] * sumYT;
  return {
    position,
    count,
    before,
    change,
    inverse,
    sumOfSquares: Math.max(0, sumYY - before * sumY - change * sumYT),
    near,
    value,
    byFront: byFront.map((d) => (isInformative ? d * change : 0)),
    byLogBlur: byLogBlur.map((d) => (isInformative ? d * change : 0)),
    residual: near.map((i, k) => data[i * positions + position] - before - change * value[k]),
  };
}

/** Brightness the model gives at one position in one frame; needs no profile where the front is far. */
export function modelledLevel(
  { position, before, change, near, value }: PositionModel,
  { shape, sense, frontPixels }: FrontState,
  frame: number,
): number {
  const within = frame - near[0];
  // The frames near the front are consecutive unless it wanders past its own reach; then they are searched.
  const k = near[within] === frame ? within : near.indexOf(frame);
  if (k >= 0) return before + change * value[k];
  return before + (shape === "step" && sense * (frontPixels[frame] - position) > 0 ? change : 0);
}

/** What the model leaves of the field. */
export function residualField(
  field: BrightnessField,
  state: FrontState,
  models: readonly PositionModel[],
): BrightnessField {
  const data = Float64Array.from(field.data);
  for (const model of models)
    for (let i = 0; i < field.frames; i++)
      data[i * field.positions + model.position] -= modelledLevel(model, state, i);
  return { ...field, data };
}
