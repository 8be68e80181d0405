import type { StripedStreak } from "../streak/read-streak.js";
import { blendedFrames } from "./blended-frames.js";
import { blendedFront } from "./blended-front.js";
import { copiedFrames } from "./copied-frames.js";
import { differencesInTime } from "./differences-in-time.js";
import { type CopyPattern, regularPattern } from "./regular-pattern.js";
import { repeatedFront } from "./repeated-front.js";
import type { BlendPattern } from "./source-shares.js";

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
  const differences = differencesInTime(streak);
  const copies = copiedFrames(streak, differences.first);
  const pattern = copies && regularPattern(streak.storedNumbers, copies);
  if (pattern) return { seen: "conversion", message: copiesInWords(pattern) };
  if (copies && copies.length > 0) return { seen: "copies", copies };
  const blends = blendedFrames(streak, differences);
  if (blends) {
    return { seen: "conversion", message: blendsInWords(blends) };
  }
  return { seen: copies ? "steady" : "nothing" };
}

/** Bands of one picture that show its frames to be those of a converted clip: the longest by its noise, averaged over
 *  fewest samples, or any by the front that runs along it; null where none does. */
export function convertedBand(
  bands: readonly { readonly streak: StripedStreak; readonly timing: FrameTiming }[],
): { readonly streak: StripedStreak; readonly message: string } | null {
  const longest = bands.reduce((a, b) => (b.streak.shape[1] > a.streak.shape[1] ? b : a));
  if (longest.timing.seen === "conversion")
    return { streak: longest.streak, message: longest.timing.message };
  for (const { streak } of bands) {
    const copies = repeatedFront(streak);
    if (copies) return { streak, message: copiesInWords(copies) };
    const blends = blendedFront(streak);
    if (blends) return { streak, message: blendsInWords(blends) };
  }
  return null;
}

function copiesInWords({ copies, every }: CopyPattern): string {
  const some = copies === 1 ? "one" : String(copies);
  const copied = copies === 1 ? "is a copy" : "are copies";
  return `${some} of every ${every} frames ${copied} of the one before`;
}

function blendsInWords({ every }: BlendPattern): string {
  return `frames are blends of their neighbours in a pattern that repeats every ${every} frames`;
}
