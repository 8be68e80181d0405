import { median } from "@frontpace/fit";
import { type FollowOptions, type Found, followDivided } from "./follow-divided.js";
import type { FollowedFront } from "./follow-front.js";
import { arrivalFrame, riseFrames } from "./passage.js";
import type { StripedStreak } from "./read-streak.js";
import { bothWindows, type StreakWindow } from "./worked-streak.js";

/** A position has not been passed where it changes by less than this part of the usual change, by so many of its
 *  uncertainties. */
const LEAST_CHANGE = 0.5;
const SURE = 3;
/** The front begins or ends on the path where it has not passed this many positions before or behind, beyond others. */
const FEWEST_POSITIONS = 3;
/** Rounds of: where it begins and ends, then the front again. */
const ROUNDS = 2;

/** A front that begins or ends on the path, followed again only while it runs. Before and after, its straight line would
 *  have it pass on, and the positions next to its beginning and its end, which take a part of the change, tell against
 *  that by a bend of the line.
 *  @returns as it is where it enters and leaves by the ends of the path or of the take, or cannot be followed again
 *  @throws what `options.pause` throws */
export async function followWithinEnds(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<Found> {
  let within = found;
  for (let round = 0; round < ROUNDS; round++) {
    const { front, look, gain, tangent } = within;
    // Strips sheared by a tilt have positions of their own.
    if (front?.motion.shape !== "step" || tangent !== 0) break;
    const running = whileItRuns(streak, front);
    if (!running) break;
    const window = bothWindows(found.window, running);
    const again = await followDivided(streak, gain, options, { look, motion: front.motion, window });
    if (!again.front) break;
    within = { ...again, slopeOpenPixels: found.slopeOpenPixels };
  }
  return within;
}

/** The frames in which a front has left its beginning and not come to its end, by as much as it takes to pass; null where
 *  both lie outside the path or the take. */
function whileItRuns({ frameNumbers, shape }: StripedStreak, front: FollowedFront): StreakWindow | null {
  const [frames, positions] = shape;
  const { motion } = front;
  const unpassed = unpassedPositions(front);
  const low = mostAtBeginning(unpassed);
  const high = positions - mostAtBeginning([...unpassed].reverse());
  const rise = riseFrames(motion);
  const [begin, end] = motion.sense > 0 ? [low, high - 1] : [high - 1, low];
  const isInside = (position: number) => position > 0 && position < positions - 1;
  const earliest = isInside(begin) ? arrivalFrame(motion, begin) + rise : Number.NEGATIVE_INFINITY;
  const latest = isInside(end) ? arrivalFrame(motion, end) - rise : Number.POSITIVE_INFINITY;
  const firstIndex = frameNumbers.findIndex((number) => number >= earliest);
  const endIndex = frameNumbers.findLastIndex((number) => number <= latest) + 1;
  if (firstIndex < 0 || endIndex <= firstIndex || endIndex - firstIndex === frames) return null;
  return {
    first: new Int32Array(positions).fill(firstIndex),
    end: new Int32Array(positions).fill(endIndex),
  };
}

/** 1 where the front has surely not passed a position, −1 where it has, 0 where it cannot be told, shape (positions,). */
function unpassedPositions({ models, noiseVariance }: FollowedFront): readonly number[] {
  const told = models.filter(({ inverse }) => inverse[2] > 0);
  const usual = median(
    told.flatMap(({ change, inverse }) =>
      Math.abs(change) > 2 * SURE * Math.sqrt(noiseVariance * inverse[2]) ? [Math.abs(change)] : [],
    ),
  );
  return models.map(({ change, inverse }) => {
    if (!(inverse[2] > 0)) return 0;
    const missing = LEAST_CHANGE * usual - Math.abs(change);
    return Math.abs(missing) > SURE * Math.sqrt(noiseVariance * inverse[2]) ? Math.sign(missing) : 0;
  });
}

/** Number of positions from the first on that hold most unpassed ones beyond passed ones; 0 where that is too few. */
function mostAtBeginning(unpassed: readonly number[]): number {
  let sum = 0;
  let most = FEWEST_POSITIONS;
  let count = 0;
  unpassed.forEach((one, position) => {
    sum += one;
    if (one > 0 && sum >= most) {
      most = sum;
      count = position + 1;
    }
  });
  return count;
}
