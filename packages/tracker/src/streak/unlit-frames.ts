import { median } from "@frontpace/fit";
import type { Streak } from "../types.js";

/** A frame has no light where it shows less than this part of what the frames about it do. */
const UNLIT = 0.4;
/** So does this share of the path at least, and the lit frames about it agree in as much but for their light: a wide dark
 *  front covers the path little by little. */
const MOST = 0.75;
/** Levels agree where neither is more than this times the other. */
const ALIKE = 2;
/** No more than this share of all frames are single lost ones. */
const FEW = 0.1;
const MOST_IN_A_ROW = 12;

/** Indices of frames that a pulsed light or a shutter left dark between lit ones, and at the ends of the take, where these are so many
 *  that they are no lost ones: each run of them begins and ends from one frame to the next, on most of the path.
 *  @returns increasing; empty where they are few */
export function unlitFrames({ data, shape: [frames, positions] }: Pick<Streak, "data" | "shape">): number[] {
  const lines = Array.from({ length: frames }, (_, i) => data.subarray(i * positions, (i + 1) * positions));
  const brightness = lines.map((line) => median(line));
  const found: number[] = [];
  let longest = 0;
  for (let first = 1; first + 1 < frames; first++) {
    const isDark = (i: number) => brightness[i] < UNLIT * brightness[first - 1];
    if (!isDark(first)) continue;
    let end = first + 1;
    while (end < frames && isDark(end)) end++;
    if (end < frames && end - first <= MOST_IN_A_ROW && isUnlit(first, end, first - 1, end)) {
      for (let i = first; i < end; i++) found.push(i);
      longest = Math.max(longest, end - first);
    }
    first = end - 1;
  }
  if (found.length <= FEW * frames) return [];
  const begin = atEnd((k) => k);
  const end = atEnd((k) => frames - 1 - k);
  return [...begin, ...found, ...end.reverse()];

  /** Whether the frames `first` to `end`, exclusive, are dark, and those before and after them alike. */
  function isUnlit(first: number, end: number, before: number, after: number): boolean {
    const light = brightness[before] / brightness[after];
    const share = (isSo: (p: number) => boolean) => {
      let count = 0;
      for (let p = 0; p < positions; p++) if (isSo(p)) count++;
      return count / positions;
    };
    const areAlike = share((p) => {
      const [a, b] = [lines[before][p], lines[after][p] * light];
      return Math.max(a, b) < ALIKE * Math.min(a, b);
    });
    const isDark = (line: Float64Array) =>
      share((p) => line[p] < UNLIT * Math.min(lines[before][p], lines[after][p])) >= MOST;
    return areAlike >= MOST && lines.slice(first, end).every(isDark);
  }

  /** Dark frames up to the first lit one, no more of them than between others.
   *  @param frameAt  the k-th frame from that end */
  function atEnd(frameAt: (k: number) => number): number[] {
    for (let k = 1; k <= longest; k++) {
      const dark = Array.from({ length: k }, (_, n) => frameAt(n));
      const lit = frameAt(k);
      const [first, last] = [Math.min(...dark), Math.max(...dark)];
      if (isUnlit(first, last + 1, lit, lit)) return dark;
    }
    return [];
  }
}
