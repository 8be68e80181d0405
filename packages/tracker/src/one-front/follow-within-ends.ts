import { median } from "@frontpace/fit";
import { profileReach } from "../model/edge-profile.js";
import { modelPositions, type PositionModel } from "../model/front-model.js";
import { type FrontMotion, smearOf } from "../model/joint-fit.js";
import { arrivalFrame, riseDeviationFrames, riseFrames } from "../model/passage.js";
import { bothWindows, type StreakWindow, workedStreak } from "../model/worked-streak.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { type FollowOptions, type Found, followDivided } from "./follow-divided.js";

/** A position has not been passed where it changes by less than this part of the usual change, by so many of its
 *  uncertainties. */
const LEAST_CHANGE = 0.5;
const SURE = 3;
/** The front begins or ends on the path where it has not passed this many positions before or behind, beyond others. */
const FEWEST_POSITIONS = 3;
/** Of the positions to which it never came, so many at most may look as if it had passed them, for one that does not. */
const MOST_PASSED = 0.25;
/** Rounds of: where it begins and ends, then the front again, until these stay. The first line is bent, and its round keeps half a
 *  rise away from them; in the later ones a standard deviation of the rise is enough. */
const ROUNDS = 4;

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
  let running: StreakWindow | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    const { front, look, gain, tangent, kept } = within;
    // Strips sheared by a tilt have positions of their own.
    if (front?.motion.shape !== "step" || tangent !== 0) break;
    // Whether a position was passed is told by all frames, not by those that counted in the round before.
    const models =
      within === found
        ? front.models
        : modelPositions(workedStreak(streak, gain, kept, found.window).field, front.state);
    const way = wayOf(unpassedPositions(models, front.noiseVariance));
    const next = whileItRuns(streak, front.motion, way, round === 0);
    if (!next || (running && areSame(running, next))) break;
    running = next;
    const window = bothWindows(found.window, running);
    const again = await followDivided(streak, gain, options, { look, motion: front.motion, window });
    if (!again.front) break;
    within = { ...again, slopeOpenPixels: found.slopeOpenPixels };
  }
  return within;
}

/** The frames in which a front has left its beginning and not come to its end; null where both lie outside the path or the take.
 *  Positions that it passes whole between the two keep the levels that it found and left: as long before and after its passage as
 *  it runs, and no longer, for what comes then is something else.
 *  @param isBent  the line is that of the whole take, bent by its beginning or its end: the same frames for all positions then,
 *    half a rise away from both; else a standard deviation of the rise */
function whileItRuns(
  { frameNumbers, shape }: StripedStreak,
  motion: FrontMotion,
  { first, last }: Way,
  isBent: boolean,
): StreakWindow | null {
  const [frames, positions] = shape;
  const { sense } = motion;
  const [begin, end] = sense > 0 ? [first, last] : [last, first];
  const isInside = (position: number) => position > 0 && position < positions - 1;
  const margin = isBent ? riseFrames(motion) : riseDeviationFrames(motion);
  const earliest = isInside(begin) ? arrivalFrame(motion, begin) + margin : Number.NEGATIVE_INFINITY;
  const latest = isInside(end) ? arrivalFrame(motion, end) - margin : Number.POSITIVE_INFINITY;
  const firstIndex = frameNumbers.findIndex((number) => number >= earliest);
  const endIndex = frameNumbers.findLastIndex((number) => number <= latest) + 1;
  if (firstIndex < 0 || endIndex <= firstIndex || endIndex - firstIndex === frames) return null;
  const window = {
    first: new Int32Array(positions).fill(firstIndex),
    end: new Int32Array(positions).fill(endIndex),
  };
  if (isBent) return window;
  const lasts = frameNumbers[endIndex - 1] - frameNumbers[firstIndex];
  const reach = profileReach(motion.blurPixels, smearOf(motion));
  for (let p = 0; p < positions; p++) {
    const passed = arrivalFrame(motion, p);
    if (sense * (p - begin) >= reach)
      while (window.first[p] > 0 && frameNumbers[window.first[p] - 1] >= passed - lasts) window.first[p]--;
    if (sense * (end - p) >= reach)
      while (window.end[p] < frames && frameNumbers[window.end[p]] <= passed + lasts) window.end[p]++;
  }
  return window;
}

/** Whether two windows leave out the same frames next to the beginning and the end. */
function areSame(one: StreakWindow, other: StreakWindow): boolean {
  return (
    Math.max(...one.first) === Math.max(...other.first) && Math.min(...one.end) === Math.min(...other.end)
  );
}

/** 1 where the front has surely not passed a position, −1 where it has, 0 where it cannot be told, shape (positions,). */
function unpassedPositions(models: readonly PositionModel[], noiseVariance: number): readonly number[] {
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

/** Whether a front never came to a part of the path. Where it was passed here and there, the front is of many parts: a cloud of
 *  cracks. */
function isBeyond(unpassed: readonly number[]): boolean {
  const count = unpassed.filter((one) => one > 0).length;
  const passed = unpassed.filter((one) => one < 0).length;
  return count - passed >= FEWEST_POSITIONS && passed <= MOST_PASSED * count;
}

/** Positions that the front runs through, the first and the last of the path's. */
interface Way {
  readonly first: number;
  readonly last: number;
}

/** The part of the path that holds most passed positions beyond unpassed ones, with the untold ones beside it; to an end of
 *  the path where too few unpassed ones lie there. Both of its ends are looked for at once: what lies behind the end of a short
 *  way outnumbers the positions passed, and they would count with what lies before its beginning. */
function wayOf(unpassed: readonly number[]): Way {
  let most = 0;
  let way: Way = { first: 0, last: unpassed.length - 1 };
  let first = 0;
  let passed = 0;
  unpassed.forEach((one, position) => {
    passed -= one;
    if (one > 0 && passed <= 0) {
      passed = 0;
      first = position + 1;
    } else if (passed > 0 && passed >= most) {
      most = passed;
      way = { first, last: position };
    }
  });
  return {
    first: isBeyond(unpassed.slice(0, way.first)) ? way.first : 0,
    last: isBeyond(unpassed.slice(way.last + 1)) ? way.last : unpassed.length - 1,
  };
}
