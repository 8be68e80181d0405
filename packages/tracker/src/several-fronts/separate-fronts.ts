import { arrivalFrame, firstFrameFrom, riseFrames } from "../model/passage.js";
import type { StreakWindow } from "../model/worked-streak.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { isSudden } from "../one-front/is-sudden.js";
import { seenPositions } from "../one-front/seen-positions.js";
import { MOST_UNSURE, unsureness } from "../one-front/unsureness.js";
import type { StripedStreak } from "../streak/read-streak.js";

/** Rounds of: where the others pass, then every front again. */
const ROUNDS = 2;

/** Fronts on one path, each followed again only where and when no other passes: at a position that two of them pass
 *  close together neither is read.
 *  @returns those that are sudden where they are read so, in the order in which they are first seen
 *  @throws what `options.pause` throws */
export async function separateFronts(
  streak: StripedStreak,
  fronts: readonly Found[],
  options: FollowOptions,
): Promise<readonly Found[]> {
  if (fronts.length < 2) return fronts;
  let separate = fronts;
  for (let round = 0; round < ROUNDS; round++) {
    const next: Found[] = [];
    for (const [k, found] of separate.entries()) {
      const { front, look, gain } = found;
      // Cut from its own window again, not from that of the round before: where the others pass is known better now.
      const window = windowBetween(streak, found, separate, fronts[k].window);
      const again =
        front && (await followDivided(streak, gain, options, { look, motion: front.motion, window }));
      // Where the others leave too little of it, it stays as it was read.
      const isTold = again && unsureness(again) < MOST_UNSURE;
      next.push(isTold ? { ...again, slopeOpenPixels: found.slopeOpenPixels } : found);
    }
    const sudden = next.map((found) => isSudden(streak, found));
    if (sudden.includes(false) && sudden.includes(true))
      return separateFronts(
        streak,
        fronts.filter((_, k) => sudden[k]),
        options,
      );
    separate = next;
  }
  const firstFrame = ({ front, kept }: Found) => (front ? kept[front.frames[0]] : 0);
  return [...separate].sort((a, b) => firstFrame(a) - firstFrame(b));
}

/** Frames that count for one front: of its own window, from the last passage of another before its own to the first
 *  after it. */
function windowBetween(
  streak: StripedStreak,
  found: Found,
  all: readonly Found[],
  ownWindow: StreakWindow | null,
): StreakWindow {
  const [frames, positions] = streak.shape;
  const first = ownWindow ? Int32Array.from(ownWindow.first) : new Int32Array(positions);
  const end = ownWindow ? Int32Array.from(ownWindow.end) : new Int32Array(positions).fill(frames);
  const own = found.front?.motion;
  for (const other of all) {
    if (!own || !other.front || other === found) continue;
    const { motion } = other.front;
    // From the first to the last: where two cross, one that was seen there hides the other.
    const seen = seenPositions(other.front);
    for (let p = seen[0]; p <= seen[seen.length - 1]; p++) {
      const ownFrame = arrivalFrame(own, p);
      const otherFrame = arrivalFrame(motion, p);
      const rise = riseFrames(motion);
      if (Math.abs(ownFrame - otherFrame) < rise + riseFrames(own)) end[p] = first[p];
      else if (otherFrame < ownFrame)
        first[p] = Math.max(first[p], firstFrameFrom(streak.frameNumbers, otherFrame + rise));
      else end[p] = Math.min(end[p], firstFrameFrom(streak.frameNumbers, otherFrame - rise));
      end[p] = Math.max(first[p], end[p]);
    }
  }
  return ownWindow?.drift ? { first, end, drift: ownWindow.drift } : { first, end };
}
