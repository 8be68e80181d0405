import { bandedZeros, type Information } from "@frontpace/fit";
import type { PositionModel } from "./front-model.js";

/** What the streak says of the front's position in each single frame, about the position it was modelled at. */
export interface FrameInformation {
  /** Indices of the frames that say anything, increasing. */
  readonly frames: readonly number[];
  /** Derivative of −½ Σ residual² by the position in each frame. */
  readonly score: Float64Array;
  /** Its expected negative derivative, levels eliminated: shape (n, n), times 1/noise² the information matrix of
   *  the positions. Neighbouring frames are tied where they share the levels of a position, all of them through the
   *  blur that is fitted with them. */
  readonly information: Information;
}

/** Score and information of the position in every frame, levels before and after eliminated.
 *  @param leastShare  frames with less than this share of the median information are left out */
export function frameInformation(
  models: readonly PositionModel[],
  frameCount: number,
  leastShare = 0.1,
): FrameInformation {
  const alone = new Float64Array(frameCount);
  for (const model of models)
    model.near.forEach((frame, n) => {
      alone[frame] += model.byFront[n] ** 2 * (1 - shared(model, n, n));
    });
  const positive = alone.filter((value) => value > 0).sort();
  const least = positive.length ? leastShare * positive[positive.length >> 1] : Number.POSITIVE_INFINITY;
  const frames: number[] = [];
  const place = new Int32Array(frameCount).fill(-1);
  alone.forEach((value, frame) => {
    if (value <= least) return;
    place[frame] = frames.length;
    frames.push(frame);
  });
  let bandwidth = 0;
  for (const { near } of models) {
    const places = near.map((frame) => place[frame]).filter((k) => k >= 0);
    if (places.length) bandwidth = Math.max(bandwidth, places[places.length - 1] - places[0]);
  }
  const information = bandedZeros(frames.length, bandwidth);
  const stride = information.bandwidth + 1;
  const score = new Float64Array(frames.length);
  const withBlur = new Float64Array(frames.length);
  let blurAlone = 0;
  for (const model of models) {
    const { near, byFront, byLogBlur, residual } = model;
    for (let n = 0; n < near.length; n++) {
      blurAlone += byLogBlur[n] ** 2;
      for (let m = 0; m < near.length; m++) blurAlone -= byLogBlur[n] * byLogBlur[m] * shared(model, n, m);
      const i = place[near[n]];
      if (i < 0) continue;
      score[i] += byFront[n] * residual[n];
      information.data[i * stride] += byFront[n] ** 2;
      withBlur[i] += byFront[n] * byLogBlur[n];
      for (let m = 0; m < near.length; m++) withBlur[i] -= byFront[n] * byLogBlur[m] * shared(model, n, m);
      for (let m = 0; m <= n; m++) {
        const j = place[near[m]];
        if (j >= 0) information.data[i * stride + (i - j)] -= byFront[n] * byFront[m] * shared(model, n, m);
      }
    }
  }
  const lost = blurAlone > 0 ? withBlur.map((value) => value / Math.sqrt(blurAlone)) : null;
  return { frames, score, information: { banded: information, lost } };
}

/** How much two samples at one position share through its levels: their element of the projection on them. */
function shared({ value, inverse: [a, b, c] }: PositionModel, n: number, m: number): number {
  return a + b * (value[n] + value[m]) + c * value[n] * value[m];
}
