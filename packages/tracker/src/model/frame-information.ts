import { bandedZeros, type Information, median } from "@frontpace/fit";
import { type PositionModel, sharedBy } from "./front-model.js";

/** A frame whose information is no more than this many times what the noise of the levels alone would feign shows
 *  no front: none has come, or it has stopped. */
const FEIGNED = 4;

/** Frames in which the front is seen, by their own information on its position: indices, increasing.
 *  @param among  indices to choose from
 *  @param leastShare  of the median information of those in which anything is seen */
export function framesThatShow(
  models: readonly PositionModel[],
  frameCount: number,
  among: Iterable<number>,
  leastShare: number,
): number[] {
  const alone = new Float64Array(frameCount);
  const feigned = new Float64Array(frameCount);
  const variance = median(
    models.flatMap(({ sumOfSquares, count }) => (count > 0 ? [sumOfSquares / Math.max(1, count - 2)] : [])),
  );
  for (const model of models) {
    const { near, byFront, change, inverse } = model;
    const byNoise = change === 0 ? 0 : (variance * inverse[2]) / change ** 2;
    near.forEach((frame, n) => {
      const own = byFront[n] ** 2 * (1 - sharedBy(model, n, n));
      alone[frame] += own;
      feigned[frame] += own * byNoise;
    });
  }
  alone.forEach((value, frame) => {
    if (value < FEIGNED * feigned[frame]) alone[frame] = 0;
  });
  const positive = alone.filter((value) => value > 0).sort();
  const least = positive.length ? leastShare * positive[positive.length >> 1] : Number.POSITIVE_INFINITY;
  return Array.from(among).filter((frame) => alone[frame] > least);
}

/** What the streak says of the front's position in each single frame, about the position it was modelled at. */
export interface FrameInformation {
  /** Derivative of −½ Σ residual² by the position in each frame. */
  readonly score: Float64Array;
  /** Its expected negative derivative, levels eliminated: shape (n, n), times 1/noise² the information matrix of
   *  the positions. Neighbouring frames are tied where they share the levels of a position, all of them through the
   *  blur that is fitted with them. */
  readonly information: Information;
}

/** Score and information of the position in each of the given frames, levels before and after eliminated. */
export function frameInformation(
  models: readonly PositionModel[],
  frames: readonly number[],
): FrameInformation {
  const place = new Map(frames.map((frame, k) => [frame, k]));
  let bandwidth = 0;
  for (const { near } of models) {
    const places = near.flatMap((frame) => place.get(frame) ?? []);
    if (places.length) bandwidth = Math.max(bandwidth, places[places.length - 1] - places[0]);
  }
  const information = bandedZeros(frames.length, bandwidth);
  const stride = information.bandwidth + 1;
  const score = new Float64Array(frames.length);
  const withBlur = new Float64Array(frames.length);
  let blurAlone = 0;
  for (const model of models) {
    const { near, byFront, byLogBlur, residual } = model;
    const places = near.map((frame) => place.get(frame));
    for (let n = 0; n < near.length; n++) {
      blurAlone += byLogBlur[n] ** 2;
      for (let m = 0; m < near.length; m++) blurAlone -= byLogBlur[n] * byLogBlur[m] * sharedBy(model, n, m);
      const i = places[n];
      if (i === undefined) continue;
      score[i] += byFront[n] * residual[n];
      information.data[i * stride] += byFront[n] ** 2;
      withBlur[i] += byFront[n] * byLogBlur[n];
      for (let m = 0; m < near.length; m++) withBlur[i] -= byFront[n] * byLogBlur[m] * sharedBy(model, n, m);
      for (let m = 0; m <= n; m++) {
        const j = places[m];
        if (j !== undefined)
          information.data[i * stride + (i - j)] -= byFront[n] * byFront[m] * sharedBy(model, n, m);
      }
    }
  }
  const lost = blurAlone > 0 ? withBlur.map((value) => value / Math.sqrt(blurAlone)) : null;
  return { score, information: { banded: information, lost } };
}
