import { fitPolynomial } from "@frontpace/fit";
import type { FollowedFront } from "./follow-front.js";

/** Blocks of time left out one after the other. */
const BLOCKS = 8;
/** Fewer frames in a block say nothing of what lasts for several. */
const LEAST_FRAMES = 2;

/** A followed front whose slope is no surer than it proves to be where one block of time after the other is left out.
 *  Where the speed varies on the way (a turbulent or stepping front) the departures from the line last longer than a
 *  first-order wander; and the edge of a cloud of cracks is ragged, and each crack keeps its own lead or lag for as long
 *  as it is seen: that stays below the noise of single frames, where a wander does not show, and yet bends the line.
 *  @param frameNumbers  of the frames that `front.frames` counts
 *  @see Künsch, Ann. Statist. 17 (1989) 1217, on leaving out blocks (citation from memory) */
export function blockwiseUncertainty(front: FollowedFront, frameNumbers: readonly number[]): FollowedFront {
  const { frames, positionPixels, standardUncertaintyPixels, line } = front;
  const count = frames.length;
  if (count < BLOCKS * LEAST_FRAMES) return front;
  const wander = line.wander.standardDeviation;
  const slopeOf = (isUsed: (n: number) => boolean) => {
    const used = Array.from({ length: count }, (_, n) => n).filter(isUsed);
    const fit = fitPolynomial(
      used.map((n) => frameNumbers[frames[n]]),
      used.map((n) => positionPixels[n]),
      1,
      { standardUncertainty: used.map((n) => Math.hypot(standardUncertaintyPixels[n], wander)) },
    );
    return fit.coefficients[1];
  };
  const all = slopeOf(() => true);
  let squares = 0;
  for (let block = 0; block < BLOCKS; block++)
    squares += (slopeOf((n) => Math.floor((n * BLOCKS) / count) !== block) - all) ** 2;
  const slopeStandardUncertainty = Math.sqrt((squares * (BLOCKS - 1)) / BLOCKS);
  if (slopeStandardUncertainty <= line.slopeStandardUncertainty) return front;
  return { ...front, line: { ...line, slopeStandardUncertainty, degreesOfFreedom: BLOCKS - 1 } };
}
