import { levelsOf, type PositionModel } from "../model/front-model.js";
import type { Found } from "./follow-divided.js";

/** What the front's own model leaves is more than noise where its variance is this many times that of the noise, and
 *  matters where the rest is more than this part of the change squared. */
const MORE = 1.5;
const MATERIAL = 3e-4;
/** Of what a model leaves because the edge has another form, so much lies near the front. */
const OF_EDGE = 0.9;

/** Variance of what the model of a followed front leaves of the frames that count, over that of the noise; 1 where it
 *  explains the streak. */
export function misfit({ front, look }: Found): number {
  return front ? leftVariance(front.models) / look.noise ** 2 : Number.POSITIVE_INFINITY;
}

/** Whether something besides the front and the noise changes in the streak, by so much that it could bear on the
 *  front.
 *  @param times  variance left over that of the noise from which it is more, >= 1. Default: 1.5 */
export function leavesMore(found: Found, times = MORE): boolean {
  const { front, look } = found;
  if (!front) return false;
  // Each position weighs as much as is known of its change: most of the path may never be reached.
  let squares = 0;
  let weights = 0;
  for (const { change, inverse } of front.models) {
    if (!(inverse[2] > 0)) continue;
    squares += change ** 2 / inverse[2];
    weights += 1 / inverse[2];
  }
  return (
    misfit(found) > times && leftVariance(front.models) - look.noise ** 2 > (MATERIAL * squares) / weights
  );
}

/** Whether it is near the front's own edge that its model leaves nearly all of what it leaves: an edge of another form, such as one cut off at black
 *  and white, and nothing else changes. */
export function isOfEdge({ front }: Found): boolean {
  if (!front) return false;
  let near = 0;
  let all = 0;
  for (const { residual, sumOfSquares } of front.models) {
    near += residual.reduce((sum, value) => sum + value ** 2, 0);
    all += sumOfSquares;
  }
  return near > OF_EDGE * all;
}

/** Variance of what the models of all positions leave of the frames that count. */
function leftVariance(models: readonly PositionModel[]): number {
  let sum = 0;
  let freedom = 0;
  for (const model of models) {
    sum += model.sumOfSquares;
    freedom += Math.max(0, model.count - levelsOf(model));
  }
  return freedom > 0 ? sum / freedom : 0;
}
