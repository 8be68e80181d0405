import type { StripedStreak } from "../streak/read-streak.js";
import { withoutCopies } from "../streak/without-copies.js";
import { acrossShift } from "./across-shift.js";
import type { SteadySamples } from "./steady-samples.js";

/** Reads a streak again, each frame where the picture lies in it.
 *  @param acrossPixels  px to the path's right hand, shape (frames,) of the streak as first read */
export type ReadAcross = (acrossPixels: Float64Array) => Promise<StripedStreak>;

/** A streak read where the picture lies in each frame. */
export interface SteadiedAcross {
  readonly streak: StripedStreak;
  /** px, of the frames of the streak. */
  readonly acrossPixels: Float64Array;
}

/** Shifts as told from the parts of the width are good to some parts in a hundred; what is left is told from them anew. */
const READINGS = 2;
/** Part of the width that may be lost to a picture that moves across it; where it moves further, frames are read at
 *  the furthest. */
const MOST_LOST = 0.5;

/** What moves in and out across a band changes its average: the streak read again, where the picture moves across the
 *  path, with each frame's band moved along with it. The movement along the path stays.
 *  @returns null where the picture does not move so, or no texture tells
 *  @throws what `readAcross` throws */
export async function steadyAcross(
  streak: StripedStreak,
  samples: SteadySamples,
  frameNumbers: readonly number[],
  readAcross: ReadAcross,
): Promise<SteadiedAcross | null> {
  let best: SteadiedAcross | null = null;
  for (let reading = 0; reading < READINGS; reading++) {
    const left = acrossShift(best?.streak ?? streak, samples);
    if (!left) break;
    const before = best?.acrossPixels;
    const acrossPixels = clipped(
      left.shiftPixels.map((shift, i) => shift + (before?.[i] ?? 0)),
      streak.width,
    );
    const shiftOf = new Map(streak.storedNumbers.map((number, i) => [number, acrossPixels[i]]));
    // Copies lie where the frames do that they copy.
    let last = acrossPixels[0];
    const ofAll = Float64Array.from(frameNumbers, (number) => {
      last = shiftOf.get(number) ?? last;
      return last;
    });
    const again = await readAcross(ofAll);
    const copies = Array.from(frameNumbers.keys()).filter((i) => !shiftOf.has(frameNumbers[i]));
    best = {
      streak: {
        ...withoutCopies(again, copies, []),
        frameNumbers: streak.frameNumbers,
        storedNumbers: streak.storedNumbers,
      },
      acrossPixels,
    };
  }
  return best;
}

/** Shifts within so many pixels of each other, those that reach over the most of them as near to it as that allows. */
function clipped(shiftPixels: Float64Array, width: number): Float64Array {
  const most = Math.max(1, MOST_LOST * width);
  const sorted = Float64Array.from(shiftPixels).sort();
  let low = 0;
  let high = sorted.length - 1;
  // The end further from the middle gives way.
  const middle = sorted[sorted.length >> 1];
  while (sorted[high] - sorted[low] > most)
    if (sorted[high] - middle > middle - sorted[low]) high--;
    else low++;
  return shiftPixels.map((shift) => Math.max(sorted[low], Math.min(sorted[high], shift)));
}
