import { bandedDiagonalOf } from "@frontpace/fit";
import type { FrameInformation } from "./frame-information.js";
import {
  type BrightnessField,
  type FrontState,
  levelsOf,
  type PositionModel,
  sharedBy,
} from "./front-model.js";

/** Lags over which neighbouring samples of the noise are looked at: along the path, px, and in time, frames. */
const LAGS_ALONG = 4;
const MOST_LAGS_IN_TIME = 100;
/** Share of the samples away from the front that tells how long their noise lasts. */
const LEAST_AWAY = 0.1;
/** Samples looked at, about. */
const ENOUGH_SAMPLES = 100_000;

/** The noise that bears on the front's position. */
export interface ResidualNoise {
  /** Variance of the residuals near the front, less what a departure of the front from the line in each frame explains
   *  of them, times what the correlation of neighbouring positions (resampling, compression) adds for an edge wider
   *  than a pixel. */
  readonly variance: number;
  /** What the correlation of frames adds to that where many of them are averaged (pixels that drift or blink), or what
   *  the model misses; 1 where frames are independent. */
  readonly lasting: number;
}

/** @param floor  smallest believable variance */
export function residualNoise(
  field: BrightnessField,
  state: FrontState,
  models: readonly PositionModel[],
  { score, information }: FrameInformation,
  floor: number,
): ResidualNoise {
  const alone = bandedDiagonalOf(information.banded);
  const explained = score.reduce((sum, value, k) => sum + (alone[k] > 0 ? value ** 2 / alone[k] : 0), 0);
  let nearSum = -explained;
  let nearFreedom = -score.length;
  let allSum = -explained;
  let allFreedom = -score.length;
  for (const model of models) {
    const { near, residual, sumOfSquares, count } = model;
    for (let n = 0; n < near.length; n++) {
      nearSum += residual[n] ** 2;
      nearFreedom += 1 - sharedBy(model, n, n);
    }
    allSum += sumOfSquares;
    allFreedom += Math.max(0, count - levelsOf(model));
  }
  const all = allFreedom > 0 ? allSum / allFreedom : floor;
  const near = nearFreedom > 50 ? nearSum / nearFreedom : all;
  const away = residualsAway(field, state, models);
  return {
    variance: Math.max(near, floor) * correlationFactor(away, "along", LAGS_ALONG),
    lasting: correlationInTime(away),
  };
}

/** Variance that noise correlated in time has where it is averaged over many frames: of the residuals away from the
 *  front, times what their correlation adds.
 *  @param floor  smallest believable variance
 *  @returns null where the front is near almost everywhere */
export function lastingVariance(
  field: BrightnessField,
  state: FrontState,
  models: readonly PositionModel[],
  floor: number,
): number | null {
  const away = residualsAway(field, state, models);
  let sum = 0;
  let count = 0;
  for (const value of away.data)
    if (!Number.isNaN(value)) {
      sum += value * value;
      count++;
    }
  return count < LEAST_AWAY * away.data.length
    ? null
    : Math.max(floor, (sum / count) * correlationInTime(away));
}

function correlationInTime(away: BrightnessField): number {
  return correlationFactor(away, "in time", Math.min(MOST_LAGS_IN_TIME, away.frames >> 2));
}

/** What the model leaves where the front is not near; NaN where it is. */
function residualsAway(
  { data, frames, positions, window }: BrightnessField,
  state: FrontState,
  models: readonly PositionModel[],
): BrightnessField {
  const away = new Float64Array(frames * positions).fill(Number.NaN);
  for (const { position, before, change, near, drifting } of models) {
    const first = window ? window.first[position] : 0;
    const end = window ? window.end[position] : frames;
    for (let i = first, at = first * positions + position; i < end; i++, at += positions) {
      const isNear = near.length > 0 && i >= near[0] && i <= near[near.length - 1];
      const behind = state.shape === "step" && state.sense * (state.frontPixels[i] - position) > 0;
      if (isNear) continue;
      away[at] = drifting ? drifting.left[i - first] : data[at] - before - (behind ? change : 0);
    }
  }
  return { data: away, frames, positions };
}

/** 1 + 2 Σ ρ over the lags at which neighbours are significantly correlated. */
function correlationFactor(
  { data, frames, positions }: BrightnessField,
  direction: "along" | "in time",
  lags: number,
): number {
  const [step, length, nextLine, lines] =
    direction === "along" ? [1, positions, positions, frames] : [positions, frames, 1, positions];
  const stride = Math.max(1, Math.floor((frames * positions) / ENOUGH_SAMPLES));
  let factor = 1;
  for (let lag = 1; lag <= lags; lag++) {
    let products = 0;
    let squares = 0;
    let count = 0;
    for (let line = 0; line < lines; line += stride)
      for (let k = 0, at = line * nextLine; k + lag < length; k++, at += step) {
        const one = data[at];
        const other = data[at + lag * step];
        if (Number.isNaN(one) || Number.isNaN(other)) continue;
        products += one * other;
        squares += (one * one + other * other) / 2;
        count++;
      }
    const correlation = products / squares;
    if (count < 100 || !(correlation > 3 / Math.sqrt(count))) break;
    factor += 2 * correlation;
  }
  return factor;
}
