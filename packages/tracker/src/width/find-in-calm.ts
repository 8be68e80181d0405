import type { Found } from "../one-front/follow-divided.js";
import { relativeUncertainty } from "../one-front/follow-front.js";
import { isTakenBack } from "../one-front/is-taken-back.js";
import { leavesMore } from "../one-front/misfit.js";
import { seenPositions } from "../one-front/seen-positions.js";
import { shareOfWidth } from "../one-front/share-of-width.js";
import { unsureness } from "../one-front/unsureness.js";
import type { SortedReadings } from "../several-fronts/sort-readings.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { agreeingParts, type PartReading, partsOfWidth, runTogether } from "./agreeing-parts.js";
import { calmStrips, isAnyRestless } from "./calm-strips.js";

/** Fewer parts of the width than this do not agree. */
const FEWEST_PARTS = 2;
/** A front of its own in a part of the width is seen at this part of the path's positions. */
const LEAST_RUN = 0.5;
/** A front covers this part of the width, or it is in a part of it only. */
const LEAST_COVERED = 0.6;
/** A front that is less sure than this, relative, may be what fragments left of another. */
const SURE = 0.01;
/** One that is this many times as blurred as in parts of the width is the trail of another, which these show. */
const TRAILING = 3;

/** Finds the fronts in a streak: in the whole width, and where something besides one front changes there, in those parts of it
 *  in which nothing does. Where the whole width leaves doubt which front that is, the parts of the width tell, each read by
 *  itself: fragments and glints cross few of them, and there are as many lines of these as there are parts.
 *  @param read  finds the fronts of one streak
 *  @param again  follows a front that was found in a part of the width in all of it; null where it is not seen there */
export async function findInCalm(
  streak: StripedStreak,
  read: (streak: StripedStreak) => Promise<SortedReadings>,
  again: (found: Found) => Promise<Found | null>,
): Promise<SortedReadings> {
  const ofWhole = await read(streak);
  const surest = surestOf(ofWhole.fronts);
  const whole = { found: surest, streak };
  const isOne = ofWhole.fronts.length === 1 && surest.front !== null;
  const ofCalm = isOne ? await readCalm(streak, surest, read) : null;
  if (ofCalm && runTogether({ found: surestOf(ofCalm.fronts), streak }, whole)) return ofCalm;
  if (isOne && !ofCalm && !isDoubtful(streak, surest)) return ofWhole;
  if (ofWhole.fronts.length > 1 && ofWhole.fronts.every((found) => covers(streak, found))) return ofWhole;

  const parts = partsOfWidth(streak);
  const readings: SortedReadings[] = [];
  for (const part of parts) readings.push(await read(part));
  const [agreed, ...rest] = agreeingParts(parts, readings);
  if (!agreed || agreed.length < FEWEST_PARTS) return ofCalm ?? ofWhole;

  const beside = rest.flatMap((group) => frontBeside(group, agreed[0]));
  const known = [agreed[0], ...beside];
  const fronts = ofWhole.fronts.filter(
    (found) => covers(streak, found) || known.some((one) => runTogether(one, { found, streak })),
  );
  if (fronts.length > 1) return { ...ofWhole, fronts };
  const isAgreed = agreed.some((reading) => runTogether(reading, whole));
  const sharp =
    isAgreed && isTrail(surest, agreed[0].found)
      ? await again({ ...agreed[0].found, look: surest.look })
      : null;
  if (sharp) return { fronts: [sharp, ...beside.map(({ found }) => found)], others: ofWhole.others };
  // Strips are not told apart about a front that leans.
  const ofAgreed =
    isAgreed && surest.tangent !== 0
      ? { ...ofWhole, fronts }
      : (isAgreed && ofCalm) ||
        ((await readCalm(streak, isAgreed ? surest : agreed[0].found, read)) ?? ofWhole);
  // Most parts show a front that the whole width, less noisy, hides behind what runs with it: a glow of another form.
  const isHidden = surest.front === null && ofAgreed === ofWhole && agreed.length > parts.length / 2;
  const shown = isHidden ? await again({ ...agreed[0].found, look: surest.look }) : null;
  return {
    ...ofAgreed,
    fronts: [...(shown ? [shown] : ofAgreed.fronts), ...beside.map(({ found }) => found)],
  };
}

/** The fronts in those parts of the width in which a followed front and noise are all that changes.
 *  @returns null where these are all parts, or show none */
async function readCalm(
  streak: StripedStreak,
  found: Found,
  read: (streak: StripedStreak) => Promise<SortedReadings>,
): Promise<SortedReadings | null> {
  const calm = calmStrips(streak, found);
  if (!calm) return null;
  const { fronts, others } = await read(calm.streak);
  if (fronts.every(({ front }) => front === null)) return null;
  return { fronts: fronts.map((one) => ({ ...one, stripsLeftOut: calm.leftOut })), others };
}

/** Whether a front that is not sure was followed beside something else that changes. What crosses a part of the width looks
 *  like a tilt. */
function isDoubtful(streak: StripedStreak, found: Found): boolean {
  if (!found.front || relativeUncertainty(found.front) < SURE) return false;
  return found.tangent !== 0 ? leavesMore(found) : isAnyRestless(streak, found);
}

/** What some parts of the width show, where it is a front beside another: parts agree, it runs along the path, and what it changes stays.
 *  @returns the one of the part that shows it at most positions, or none */
function frontBeside(group: readonly PartReading[], other: PartReading): readonly PartReading[] {
  const seenIn = ({ found: { front } }: PartReading) => (front ? seenPositions(front).length : 0);
  const best = group.reduce((a, b) => (seenIn(b) > seenIn(a) ? b : a));
  if (group.length < FEWEST_PARTS || seenIn(best) < LEAST_RUN * best.streak.shape[1]) return [];
  return isTakenBack(best.streak, best.found, other.found.front?.motion) ? [] : [best];
}

/** Whether a front is what another, sharper and surer one leaves behind it. */
function isTrail({ front }: Found, { front: sharper }: Found): boolean {
  if (!front || !sharper) return false;
  return (
    front.motion.blurPixels > TRAILING * sharper.motion.blurPixels &&
    relativeUncertainty(front) > relativeUncertainty(sharper)
  );
}

function covers(streak: StripedStreak, found: Found): boolean {
  const share = shareOfWidth(streak, found);
  return share === null || share >= LEAST_COVERED;
}

function surestOf(fronts: readonly Found[]): Found {
  return fronts.reduce((best, next) => (unsureness(next) < unsureness(best) ? next : best));
}
