import type { EdgeForm, ProfileShape } from "./edge-profile.js";
import { PositionFitter } from "./position-fitter.js";

/** Brightness against frame and position, row-major, shape [frames, positions]. */
export interface BrightnessField {
  readonly data: Float64Array;
  readonly frames: number;
  readonly positions: number;
  /** Frames that count at each position, `first` to `end` (exclusive), shapes (positions,). Default: all of them. */
  readonly window?: {
    readonly first: Int32Array;
    readonly end: Int32Array;
    /** What the levels of a position do in time besides being constant. Default: nothing. */
    readonly drift?: (position: number) => Drift;
  };
}

/** What the levels of one position do in time besides being constant. */
export interface Drift {
  /** Each is fitted with a size of its own, shape (frames,). */
  readonly columns: readonly Float64Array[];
  /** Glow ahead of the front in units of its change, shape (frames,): a part of its profile. Default: none. */
  readonly ahead?: Float64Array;
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
  /** Of a step. Default: gaussian. */
  readonly form?: EdgeForm | undefined;
  /** Default: each position has a change of its own. */
  readonly alike?: AlikeChanges | undefined;
}

/** Changes that are alike along the path: what is known of each before its own samples are looked at. */
export interface AlikeChanges {
  /** Mean of them, DN. */
  readonly change: number;
  /** Variance of a sample's noise over that of the changes about their mean. */
  readonly precision: number;
}

/** One position of the streak under the model brightness = before + change · profile. */
export interface PositionModel {
  readonly position: number;
  /** Frames that count here. */
  readonly count: number;
  /** Where levels drift: the mean of the position. */
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
  /** Where levels drift: orthonormal columns that span everything fitted here, in the frames `near`, and what is left of all
   *  the frames that count. */
  readonly drifting?: {
    readonly basis: readonly (readonly number[])[];
    readonly left: Float64Array;
  };
}

/** Levels, and what they do in time, fitted at a position. */
export function levelsOf({ inverse, drifting }: PositionModel): number {
  return drifting ? drifting.basis.length : inverse[2] === 0 ? 1 : 2;
}

/** How much two samples near the front at one position, n and m of `near`, share through what is fitted there: their
 *  element of the projection on it. */
export function sharedBy({ value, inverse, drifting }: PositionModel, n: number, m: number): number {
  if (!drifting) return inverse[0] + inverse[1] * (value[n] + value[m]) + inverse[2] * value[n] * value[m];
  let sum = 0;
  for (const column of drifting.basis) sum += column[n] * column[m];
  return sum;
}

/** Every position of the streak, its levels before and after eliminated by linear least squares. */
export function modelPositions(
  field: BrightnessField,
  state: FrontState,
  fitter = new PositionFitter(field),
): PositionModel[] {
  fitter.begin(state);
  return Array.from({ length: field.positions }, (_, p) => {
    fitter.fit(p);
    return fitter.model();
  });
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
