import { blockwiseUncertainty } from "./blockwise-uncertainty.js";
import { onePolarity } from "./choose-fit.js";
import { findAndFollow } from "./find-and-follow.js";
import { findCrossing } from "./find-crossing.js";
import { type FollowOptions, type Found, followDivided } from "./follow-divided.js";
import { relativeUncertainty } from "./follow-front.js";
import type { StripedStreak } from "./read-streak.js";
import type { SortedReadings } from "./sort-readings.js";
import type { Progress, StreakChannel } from "./types.js";

/** Brightness is believed by itself where its positions change in one sense to this part, 0..1, and its speed is told to
 *  this, relative. */
const ONE_SENSE = 0.7;
const SURE = 0.15;

/** What was found, in which streak and in which of its channels. */
export interface FoundInChannel {
  readonly streak: StripedStreak;
  readonly readings: SortedReadings;
  readonly channel: StreakChannel;
}

/** Finds and follows the front in the brightness of the streaks, and keeps the surest. Where that shows no front, or one
 *  behind which positions change in either sense, or a speed hardly told, it is looked for in their departures, too: a
 *  cloud of cracks shows there. A stated polarity is one of brightness, and departures have none.
 *  @throws what `options.pause` throws */
export async function followChannels(
  streaks: readonly StripedStreak[],
  options: FollowOptions,
  onProgress?: (progress: Progress) => void,
): Promise<FoundInChannel> {
  const follow = async (channel: StreakChannel): Promise<FoundInChannel> => {
    const stage = channel === "brightness" ? "fitting" : "fitting departures";
    const tried: FoundInChannel[] = [];
    for (const streak of streaks) {
      onProgress?.({ stage, done: tried.length, total: streaks.length });
      const readings =
        channel === "brightness"
          ? await findAndFollow(streak, options)
          : { fronts: [await followDepartures(streak, options)], others: [] };
      tried.push({ streak, readings, channel });
    }
    onProgress?.({ stage, done: tried.length, total: streaks.length });
    return tried.reduce((best, next) => (sureness(next) > sureness(best) ? next : best));
  };
  const brightness = await follow("brightness");
  if (options.sign !== 0 || isBelievable(brightness)) return brightness;
  const departures = await follow("departures");
  const isSurer = departures.readings.fronts[0].front !== null && sureness(departures) > sureness(brightness);
  return isSurer ? departures : brightness;
}

/** What the departures show; the light is taken off in them already. */
async function followDepartures(streak: StripedStreak, options: FollowOptions): Promise<Found> {
  const found = await followDivided(departureStreak(streak), null, { ...options, sign: 1 });
  if (!found.front) return found;
  const numbers = found.kept.map((frame) => streak.frameNumbers[frame]);
  return { ...found, front: blockwiseUncertainty(found.front, numbers) };
}

/** Orders what was found: a followed front by how sure its speed is, else by how much there is of a moving change. */
function sureness({ readings }: FoundInChannel): number {
  const [{ front, look }] = readings.fronts;
  if (front) return 1 + 1 / relativeUncertainty(front);
  return look.weight / (1 + look.weight);
}

function isBelievable({ readings, streak }: FoundInChannel): boolean {
  const [{ front, look }] = readings.fronts;
  if (front) return onePolarity(front.models) > ONE_SENSE && relativeUncertainty(front) < SURE;
  const [frames, positions] = streak.shape;
  return findCrossing({ data: streak.data, frames, positions }, look.noise) !== null;
}

/** The departures as a streak by themselves. They have no tilt: in parts of the width the cracks are too few to tell one. */
export function departureStreak(streak: StripedStreak): StripedStreak {
  const { departures, shape, width } = streak;
  return {
    ...streak,
    data: departures,
    strips: [departures],
    stripOffsetsPixels: [0],
    stripCounts: [new Float64Array(shape[1]).fill(width)],
    // Standard deviation of the logarithm of a mean of so many squares of normal numbers, for many.
    roundingNoise: Math.sqrt(2 / width),
  };
}
