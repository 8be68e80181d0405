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
  /** Pixels that changed as surely in the other sense. */
  readonly against: number;
  readonly polarity: "bright" | "dark";
}

/** Where the picture changed for good, in the sense in which it changed most. */
export function markLines({ rows, columns, significance, lasts }: ChangePicture): Marked {
  let [balance, brighter, darker] = [0, 0, 0];
  for (const value of significance) {
    if (Math.abs(value) <= SURE) continue;
    balance += value;
    if (value > 0) brighter++;
    else darker++;
  }
  const polarity = balance < 0 ? "dark" : "bright";
  const sign = polarity === "dark" ? -1 : 1;
  const isLikely = (at: number) => sign * significance[at] > LIKELY;
  const picture = new Uint8Array(rows * columns);
  const seen = new Uint8Array(rows * columns);
  const steps = ring(columns);
  let pixels = 0;
  for (let seed = 0; seed < significance.length; seed++) {
    if (seen[seed] || !(sign * significance[seed] > SURE)) continue;
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
    for (const at of patch) picture[at] = 1;
    pixels += patch.length;
  }
  return { picture, pixels, against: sign < 0 ? brighter : darker, polarity };
}

function lastingShare(patch: readonly number[], lasts: Uint8Array): number {
  return patch.reduce((sum, at) => sum + lasts[at], 0) / patch.length;
}
