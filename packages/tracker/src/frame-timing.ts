import { blendedFrames } from "./blended-frames.js";
import { copiedFrames } from "./copied-frames.js";
import type { StripedStreak } from "./read-streak.js";
import { regularPattern } from "./regular-pattern.js";

/** What the frames show of when they were taken. */
export type FrameTiming =
  /** Every pair of neighbouring frames differs by its noise. */
  | { readonly seen: "steady" }
  /** The noise is too low, or the frames too few, to tell. */
  | { readonly seen: "nothing" }
  /** Indices of frames that are copies of the one before, in no regular order. */
  | { readonly seen: "copies"; readonly copies: readonly number[] }
  /** Copies or blends at regular intervals. */
  | { readonly seen: "conversion"; readonly message: string };

export function frameTiming(streak: StripedStreak): FrameTiming {
  const copies = copiedFrames(streak);
  const pattern = copies && regularPattern(streak.frameNumbers, copies);
  if (pattern) {
    const { copies: count, every } = pattern;
    const message = `${count === 1 ? "one" : count} of every ${every} frames is a copy of the one before`;
    return { seen: "conversion", message };
  }
  if (copies && copies.length > 0) return { seen: "copies", copies };
  const blends = blendedFrames(streak);
  if (blends) {
    const message = `frames are blends of their neighbours in a pattern that repeats every ${blends.every} frames`;
    return { seen: "conversion", message };
  }
  return { seen: copies ? "steady" : "nothing" };
}
