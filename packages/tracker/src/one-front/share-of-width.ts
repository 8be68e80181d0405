import { stateOf } from "../model/joint-fit.js";
import { PositionFitter } from "../model/position-fitter.js";
import { workedStreak } from "../model/worked-streak.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { Found } from "./follow-divided.js";

/** Fewer parts of the width than this do not tell what covers it. */
const LEAST_STRIPS = 3;

/** Part of the width, 0..1, over which a followed front changes the brightness: the square of the mean change over the
 *  strips against their mean square, both less what noise gives. A change that is alike everywhere has 1, one that is alike in
 *  some of the strips has their share, a round spot the share of its own width.
 *  @returns null where the width is not in parts, or where they show nothing above the noise */
export function shareOfWidth(
  streak: StripedStreak,
  { front, tangent, kept, gain, window }: Pick<Found, "front" | "tangent" | "kept" | "gain" | "window">,
): number | null {
  if (!front || streak.strips.length < LEAST_STRIPS) return null;
  const { strips, numbers, field } = workedStreak(streak, gain, kept, window);
  const onPath =
    tangent === 0 ? front.state : stateOf(front.motion, numbers, new Float64Array(numbers.length));
  const changes = strips.map((data, k) => {
    const ahead = tangent * streak.stripOffsetsPixels[k];
    const fitter = new PositionFitter({ ...field, data });
    fitter.begin({
      ...onPath,
      alike: undefined,
      frontPixels: onPath.frontPixels.map((position) => position + ahead),
    });
    return Array.from({ length: field.positions }, (_, p) => {
      fitter.fit(p);
      const variance = fitter.inverse[2];
      return streak.stripCounts[k][p] > 0 && variance > 0 ? { change: fitter.change, variance } : null;
    });
  });
  let together = 0;
  let each = 0;
  for (let p = 0; p < field.positions; p++) {
    const told = changes.flatMap((strip) => strip[p] ?? []);
    if (told.length < LEAST_STRIPS) continue;
    const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / told.length;
    const inverse = meanOf(told.map(({ variance }) => variance));
    const noise = inverse * front.noiseVariance;
    const mean = meanOf(told.map(({ change }) => change));
    const square = meanOf(told.map(({ change }) => change ** 2));
    together += (mean ** 2 - noise) / inverse;
    each += (square - noise * strips.length) / inverse;
  }
  return each > 0 ? Math.max(0, Math.min(1, together / each)) : null;
}
