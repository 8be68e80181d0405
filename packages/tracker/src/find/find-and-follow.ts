import { believedFront } from "../one-front/believed-front.js";
import { blockwiseUncertainty } from "../one-front/blockwise-uncertainty.js";
import { followAlike } from "../one-front/follow-alike.js";
import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import { relativeUncertainty } from "../one-front/follow-front.js";
import { followWithinEnds } from "../one-front/follow-within-ends.js";
import { isSudden } from "../one-front/is-sudden.js";
import { isTakenBack } from "../one-front/is-taken-back.js";
import { leavesMore, misfit } from "../one-front/misfit.js";
import { areResidualsRandom } from "../one-front/residuals-random.js";
import { seenPositions } from "../one-front/seen-positions.js";
import { unsureness } from "../one-front/unsureness.js";
import { frontBeyond } from "../several-fronts/front-beyond.js";
import { joinAbutting } from "../several-fronts/join-abutting.js";
import { separateFronts } from "../several-fronts/separate-fronts.js";
import { type SortedReadings, sortReadings } from "../several-fronts/sort-readings.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { findInCalm } from "../width/find-in-calm.js";
import { followAmongLevels } from "./follow-among-levels.js";
import { followBent } from "./follow-bent.js";
import { followInWhole, followThroughClutter } from "./follow-through-clutter.js";

/** Where a streak shows no front as a whole, one of its lines of changes must be told to this, relative, and leave no more
 *  than this times the noise: changes that do not run as one leave more. */
const SURE_ALONE = 0.05;
const MOST_LEFT_ALONE = 2;
/** A second front is looked for where the first leaves this many times the noise: less than what makes another reading
 *  of the first worth while, because one blurred line can lie over two faint ones. */
const MAY_BE_ANOTHER = 1.15;
/** Changes that are alike are taken for what passes where its speed is told so many times as well with them. */
const MUCH_SURER = 2;
/** Of a bent way that is seen at so many times as many positions, a straight line has found a part. */
const MORE_OF_WAY = 1.2;

/** Finds and follows the fronts in one streak: one as a rule, and where more changes than that one explains, every line
 *  of changes.
 *  @returns at least one front, not found perhaps
 *  @throws what `options.pause` throws */
export async function findAndFollow(streak: StripedStreak, options: FollowOptions): Promise<SortedReadings> {
  const { fronts, others } = await findInCalm(
    streak,
    (part) => findWithAlike(part, options),
    async (found) => {
      const again = await followInWhole(streak, found, options);
      return again && believedFront(streak, again, options).front ? again : null;
    },
  );
  return { fronts: fronts.map((found) => asSureAsItsBlocks(streak, found)), others };
}

async function findWithAlike(streak: StripedStreak, options: FollowOptions): Promise<SortedReadings> {
  const readings = await findReadings(streak, options);
  if (readings.fronts.length > 1) return readings;
  return { ...readings, fronts: [await surerIfAlike(streak, readings.fronts[0], options)] };
}

async function findReadings(streak: StripedStreak, options: FollowOptions): Promise<SortedReadings> {
  const found = await followAmongLevels(streak, options);
  const believed = believedFront(streak, found, options);
  const isOne = believed.front !== null && !leavesMore(found);
  if (isOne && !leavesMore(found, MAY_BE_ANOTHER)) return { fronts: [believed], others: [] };
  // What hides a front may be taken off close about its passage: only then it is seen whether it is one.
  const seen = (await followThroughClutter(streak, found, options))
    .map((reading) => believedFront(streak, reading, options))
    .filter(({ front }) => front !== null);
  const sudden = seen.filter((reading) => isSudden(streak, reading));
  const readings = sudden.length > 0 ? sudden : seen;
  const isSeen = found.front ? readings.length > 0 : readings.some(standsAlone);
  if (!isSeen) return { fronts: [(await bentFront(streak, found, options)) ?? believed], others: [] };
  const sorted = sortReadings(readings);
  const beyond = sorted.fronts.length === 1 && (await frontBeyond(streak, sorted.fronts[0], options));
  const { fronts, others } =
    beyond && isSudden(streak, beyond) ? sortReadings([...readings, beyond]) : sorted;
  if (isOne && fronts.length === 1) return { fronts: [believed], others: [] };
  const separate = await separateFronts(streak, fronts, options);
  const joined = separate.length > 1 && (await joinAbutting(streak, separate, options));
  if (joined) return { fronts: [joined], others: [] };
  const bent = await bentFront(streak, found, options);
  if (bent && (separate.length > 1 || seenBy(bent) > MORE_OF_WAY * seenBy(separate[0])))
    return { fronts: [bent], others: [] };
  const within: Found[] = [];
  for (const front of separate) within.push(await followWithinEnds(streak, front, options));
  return { fronts: within, others };
}

function seenBy({ front }: Found): number {
  return front ? seenPositions(front).length : 0;
}

/** The front on a bent way that explains the streak where straight ones do not; null where there is none. */
async function bentFront(streak: StripedStreak, found: Found, options: FollowOptions): Promise<Found | null> {
  const bent = await followBent(streak, found, options);
  return bent && believedFront(streak, bent, options).front && bent;
}

/** The front that was found, or none; or the thin line that passes too fast to be told at single positions, where it alone
 *  explains the streak and is told much better than what was found to pass. */
async function surerIfAlike(streak: StripedStreak, found: Found, options: FollowOptions): Promise<Found> {
  if (found.front && !isTakenBack(streak, found)) return found;
  const followed = await followAlike(streak, found, options);
  const alike = followed && believedFront(streak, followed, options);
  return alike && standsAlone(alike) && MUCH_SURER * unsureness(alike) < unsureness(found) ? alike : found;
}

function standsAlone(found: Found): boolean {
  const { front } = found;
  return front !== null && relativeUncertainty(front) < SURE_ALONE && misfit(found) < MOST_LEFT_ALONE;
}

/** A front that does not keep to its line by chance is as sure as parts of its way agree; the chord of a way in parts is no
 *  such line. */
function asSureAsItsBlocks(streak: StripedStreak, found: Found): Found {
  const { front, kept, parts } = found;
  if (!front || parts) return found;
  const numbers = kept.map((frame) => streak.frameNumbers[frame]);
  return areResidualsRandom(front, numbers)
    ? found
    : { ...found, front: blockwiseUncertainty(front, numbers) };
}
