import { ring } from "./thin.js";
import type { ChangePicture } from "./types.js";

/** A change is marked from the lower of these significances on, where it hangs together with one above the higher. */
const SURE = 8;
const LIKELY = 4;
/** Smaller patches are specks, px. */
const SMALLEST = 24;
/** This part of a patch is still there at the very end: noise leaves more of a crack. */
const LEAST_LASTING = 0.5;

export interface Marked {
  /** 1 where marked; row-major. */
  readonly picture: Uint8Array;
  readonly pixels: number;
  /** Pixels that changed as surely, and for good, in the other sense. */
  readonly against: number;
  readonly polarity: "bright" | "dark";
}

/** Where the picture changed for good, in the sense in which it changed most. What flies past in the last frames is left out of either sense: it leaves its
 *  way in a mean, and says nothing of what the lines are. */
export function markLines(change: ChangePicture): Marked {
  const [brighter, darker] = [lastingPatches(change, 1), lastingPatches(change, -1)];
  const isDark = darker.strength > brighter.strength;
  const [{ picture, pixels }, other] = isDark ? [darker, brighter] : [brighter, darker];
  return { picture, pixels, against: other.sure, polarity: isDark ? "dark" : "bright" };
}

interface Patches {
  /** 1 where marked; row-major. */
  readonly picture: Uint8Array;
  readonly pixels: number;
  /** Of these, how many changed surely, and the sum of their significances. */
  readonly sure: number;
  readonly strength: number;
}

/** Patches that changed in one sense, 1 or -1, and for good. */
function lastingPatches({ rows, columns, significance, lasts }: ChangePicture, sign: number): Patches {
  const isLikely = (at: number) => sign * significance[at] > LIKELY;
  const isSure = (at: number) => sign * significance[at] > SURE;
  const picture = new Uint8Array(rows * columns);
  const seen = new Uint8Array(rows * columns);
  const steps = ring(columns);
  let [pixels, sure, strength] = [0, 0, 0];
  for (let seed = 0; seed < significance.length; seed++) {
    if (seen[seed] || !isSure(seed)) continue;
    const patch = [seed];
    seen[seed] = 1;
    for (let k = 0; k < patch.length; k++)
      for (const step of steps) {
        const at = patch[k] + step;
        if (at < 0 || at >= seen.length || seen[at] || !isLikely(at)) continue;
        if (Math.abs((at % columns) - (patch[k] % columns)) > 1) continue;
        seen[at] = 1;
        patch.push(at);
      }
    if (patch.length < SMALLEST || lastingShare(patch, lasts) < LEAST_LASTING) continue;
    pixels += patch.length;
    for (const at of patch) {
      picture[at] = 1;
      if (!isSure(at)) continue;
      sure++;
      strength += sign * significance[at];
    }
  }
  return { picture, pixels, sure, strength };
}

function lastingShare(patch: readonly number[], lasts: Uint8Array): number {
  return patch.reduce((sum, at) => sum + lasts[at], 0) / patch.length;
}
