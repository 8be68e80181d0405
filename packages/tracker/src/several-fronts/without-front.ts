import { modelledLevel } from "../model/front-model.js";
import { arrivalFrame } from "../model/passage.js";
import type { Found } from "../one-front/follow-divided.js";
import { clearlySeen } from "../one-front/seen-positions.js";
import type { StripedStreak } from "../streak/read-streak.js";

/** The streak as it would be had a followed front changed nothing: its change is taken off, from its passage on, at every
 *  position at which it is clearly seen; where it passes and is not, the position is left with one level. Frames that were
 *  not kept go with the one before.
 *  @returns null where a tilted front was followed, whose models are not of the streak's positions */
export function withoutFront(
  streak: StripedStreak,
  { front, tangent, kept, gain }: Found,
): StripedStreak | null {
  if (!front || tangent !== 0) return null;
  const [frames, positions] = streak.shape;
  const { frameNumbers } = streak;
  const seen = new Set(clearlySeen(front));
  const rest = [streak.data, ...streak.strips].map((data) => Float64Array.from(data));
  for (const model of front.models) {
    const p = model.position;
    const arrival = arrivalFrame(front.motion, p);
    if (seen.has(model)) {
      for (let i = 0, k = 0; i < frames; i++) {
        while (k + 1 < kept.length && kept[k + 1] <= i) k++;
        const change = modelledLevel({ ...model, before: 0 }, front.state, k) * (gain ? gain[i] : 1);
        for (const data of rest) data[i * positions + p] -= change;
      }
    } else if (arrival > frameNumbers[0] && arrival < frameNumbers[frames - 1]) {
      for (const data of rest) {
        let sum = 0;
        for (let i = 0; i < frames; i++) sum += data[i * positions + p];
        for (let i = 0; i < frames; i++) data[i * positions + p] = sum / frames;
      }
    }
  }
  const [data, ...strips] = rest;
  return { ...streak, data, strips };
}
