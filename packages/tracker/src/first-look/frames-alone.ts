import { median } from "@frontpace/fit";
import type { Split } from "./change-in-time.js";
import type { VotedLine } from "./voted-lines.js";

/** What is taken back beside another change that stays is a front of its own where so much of the positions that change
 *  have it: fragments and glints have few. */
const MOST_POSITIONS = 0.7;

/** Frames for which the changes on a line last, as they were voted; where they are taken back beside others that stay,
 *  but at almost all positions, the frames between them and the nearest change of the other sense, the median: two fronts
 *  of which one takes back a part of what the other changed look like that, and so do the edges of a cloud, close together.
 *  @param splits  shape (positions,)
 *  @returns 0 where the changes are of something that passes at some of the positions */
export function framesAlone(
  { support, columns, lastsFrames }: VotedLine,
  splits: readonly (readonly Split[])[],
): number {
  if (lastsFrames > 0) return lastsFrames;
  const changing = splits.filter((of) => of.length > 0).length;
  if (support.length < MOST_POSITIONS * changing) return 0;
  return median(
    support.flatMap((position, k) => {
      const [first, last] = columns[k];
      const own = splits[position].find(({ column }) => column === first);
      if (!own) return [];
      const others = splits[position].filter(({ strength }) => strength * own.strength < 0);
      const apart = Math.min(...others.map(({ column }) => Math.max(first - column, column - last)));
      // From middle to middle, the other taking as long as this one.
      return [apart + last - first];
    }),
  );
}
