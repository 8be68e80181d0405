import { bandedDiagonalOf } from "@frontpace/fit";
import type { FrameInformation } from "./frame-information.js";
import type { BrightnessField, FrontState, PositionModel } from "./front-model.js";

/** Lags, px, over which neighbouring samples of the noise are looked at. */
const LAGS = 4;

/** Variance of the noise that bears on the front's position: that of the residuals near the front, less what a
 *  departure of the front from the line in each frame explains of them, times what the correlation of neighbouring
 *  positions (resampling, compression) adds for an edge wider than a pixel.
 *  @param floor  smallest believable variance */
export function residualVariance(
  field: BrightnessField,
  state: FrontState,
  models: readonly PositionModel[],
  { score, information }: FrameInformation,
  floor: number,
): number {
  const alone = bandedDiagonalOf(information.banded);
  const explained = score.reduce((sum, value, k) => sum + (alone[k] > 0 ? value ** 2 / alone[k] : 0), 0);
  let nearSum = -explained;
  let nearFreedom = -score.length;
  let allSum = -explained;
  let allFreedom = -score.length;
  for (const { near, value, residual, inverse, sumOfSquares } of models) {
    const [a, b, c] = inverse;
    for (let n = 0; n < near.length; n++) {
      nearSum += residual[n] ** 2;
      nearFreedom += 1 - (a + 2 * b * value[n] + c * value[n] ** 2);
    }
    allSum += sumOfSquares;
    allFreedom += field.frames - (c === 0 ? 1 : 2);
  }
  const all = allFreedom > 0 ? allSum / allFreedom : floor;
  const near = nearFreedom > 50 ? nearSum / nearFreedom : all;
  return Math.max(near, floor) * correlationFactor(field, state, models);
}

function correlationFactor(
  field: BrightnessField,
  state: FrontState,
  models: readonly PositionModel[],
): number {
  const products = new Float64Array(LAGS + 1);
  const { frames, positions, data } = field;
  const frameStride = Math.max(1, Math.floor((frames * positions) / 100_000));
  const residual = new Float64Array(positions);
  let count = 0;
  for (let i = 0; i < frames; i += frameStride) {
    residual.fill(Number.NaN);
    for (const { position, before, change, near } of models) {
      if (near.length && i >= near[0] && i <= near[near.length - 1]) continue;
      const behind = state.shape === "step" && state.sense * (state.frontPixels[i] - position) > 0;
      residual[position] = data[i * positions + position] - before - (behind ? change : 0);
    }
    for (let p = 0; p + LAGS < positions; p++) {
      if (!(Math.abs(residual[p]) < Number.POSITIVE_INFINITY) || Number.isNaN(residual[p + LAGS])) continue;
      for (let lag = 0; lag <= LAGS; lag++) products[lag] += residual[p] * (residual[p + lag] || 0);
      count++;
    }
  }
  if (count < 100 || products[0] === 0) return 1;
  const significant = 3 / Math.sqrt(count);
  let factor = 1;
  for (let lag = 1; lag <= LAGS; lag++) {
    const correlation = products[lag] / products[0];
    if (correlation < significant) break;
    factor += 2 * correlation;
  }
  return factor;
}
