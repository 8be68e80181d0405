import { median } from "./median.js";
import type { Scan, Stretch } from "./scan-places.js";

/** How much the mean brightness of the picture usually varies from one frame to another: between samples that both lie before a stretch, or both
 *  behind it, since in a short take what changes in it would be taken for usual.
 *  @param apart  usual distance of two samples, frames
 *  @param frames  distance of the two frames; where neither side has samples so far apart it is that of nearer ones, and more in proportion,
 *    as a drift has
 *  @returns unit of the samples; 0 where there are no two samples on either side */
export function levelNoise(
  levels: Scan["levels"],
  apart: number,
  { before, after }: Pick<Stretch, "before" | "after">,
  frames: number,
): number {
  const sides = [levels.filter(({ place }) => place <= before), levels.filter(({ place }) => place >= after)];
  const wanted = Math.max(1, Math.ceil(frames / apart));
  const longest = Math.max(sides[0].length, sides[1].length);
  const lag = Math.max(1, Math.min(wanted, longest >> 1));
  const differences = sides.flatMap((side) =>
    side.slice(lag).map(({ level }, i) => Math.abs(level - side[i].level)),
  );
  return differences.length ? (1.4826 * median(differences) * wanted) / lag : 0;
}
