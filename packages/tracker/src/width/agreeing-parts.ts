import { profileReach } from "../model/edge-profile.js";
import { smearOf } from "../model/joint-fit.js";
import type { Found } from "../one-front/follow-divided.js";
import { relativeUncertainty } from "../one-front/follow-front.js";
import { misfit } from "../one-front/misfit.js";
import type { SortedReadings } from "../several-fronts/sort-readings.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { FEWEST_FRAMES, FEWEST_STRIPS, withoutStrips } from "./strips-that-stay.js";

/** The width is read in so many parts. */
const PARTS = 4;
/** A line that is less sure than this, relative, would agree with any other. */
const SURE = 0.05;
/** Two readings of one front differ in speed by no more than so many standard uncertainties and this part of it. */
const ALIKE = 3;
const WANDERS = 0.02;

/** A front and the streak that it was read in. */
export interface Reading {
  readonly found: Found;
  readonly streak: StripedStreak;
}

/** A front as it was read in one part of the width, a streak of its own. */
export interface PartReading extends Reading {
  readonly part: number;
}

/** The width in parts side by side, each as a streak of its own. */
export function partsOfWidth(streak: StripedStreak): readonly StripedStreak[] {
  const strips = streak.strips.length;
  if (strips < FEWEST_STRIPS || streak.storedNumbers.length < FEWEST_FRAMES) return [];
  const partOf = (strip: number) => Math.floor((strip * PARTS) / strips);
  return Array.from({ length: PARTS }, (_, part) =>
    withoutStrips(
      streak,
      Array.from(streak.strips.keys()).filter((strip) => partOf(strip) !== part),
    ),
  );
}

/** Readings in different parts of the width that agree, in groups; first that of most parts, and of as many the one that
 *  leaves least. What crosses a part of the width, a fragment or a glint, is read in that part; the front is read in all that
 *  nothing else disturbs. Each reading is in one group.
 *  @param readings  of each part */
export function agreeingParts(
  parts: readonly StripedStreak[],
  readings: readonly SortedReadings[],
): readonly (readonly PartReading[])[] {
  let left = readings.flatMap(({ fronts }, part) =>
    fronts.filter(isSure).map((found): PartReading => ({ found, streak: parts[part], part })),
  );
  const groups: (readonly PartReading[])[] = [];
  while (left.length > 0) {
    const best = left
      .map((seed) => onePerPart(left.filter((reading) => runTogether(reading, seed))))
      .reduce((a, b) => (b.length > a.length || (b.length === a.length && leaves(b) < leaves(a)) ? b : a));
    groups.push(best);
    left = left.filter((reading) => !best.some((one) => runTogether(reading, one)));
  }
  return groups;
}

/** Whether two readings are of one front: they run as fast, and in the frames of both are no further apart than its edge is
 *  wide, or than a front leans at 45 degrees. */
export function runTogether(a: Reading, b: Reading): boolean {
  const [one, other] = [a, b].map(({ found }) => found.front);
  if (!one || !other) return false;
  const { line } = one;
  const apart = Math.abs(line.slope - other.line.slope);
  const unsure = Math.hypot(line.slopeStandardUncertainty, other.line.slopeStandardUncertainty);
  if (apart > ALIKE * unsure + WANDERS * Math.abs(line.slope)) return false;
  const [spanOfA, spanOfB] = [a, b].map(spanOf);
  const from = Math.max(spanOfA[0], spanOfB[0]);
  const to = Math.min(spanOfA[1], spanOfB[1]);
  if (from > to) return false;
  const middle = (from + to) / 2;
  const between = line.intercept - other.line.intercept + (line.slope - other.line.slope) * middle;
  const reach = profileReach(Math.max(one.motion.blurPixels, other.motion.blurPixels), smearOf(one.motion));
  return Math.abs(between) < reach + Math.abs(middleOffset(a.streak) - middleOffset(b.streak));
}

function isSure({ front }: Found): boolean {
  return front !== null && front.motion.shape === "step" && relativeUncertainty(front) < SURE;
}

/** First and last frame number in which a reading shows its front. */
function spanOf({ found: { front, kept }, streak }: Reading): readonly [number, number] {
  const frames = front?.frames ?? [];
  return [streak.frameNumbers[kept[frames[0]]], streak.frameNumbers[kept[frames[frames.length - 1]]]];
}

function middleOffset({ stripOffsetsPixels }: StripedStreak): number {
  return stripOffsetsPixels.reduce((sum, offset) => sum + offset, 0) / stripOffsetsPixels.length;
}

/** Of each part the reading that leaves least. */
function onePerPart(readings: readonly PartReading[]): readonly PartReading[] {
  const byPart = new Map<number, PartReading>();
  for (const reading of readings) {
    const known = byPart.get(reading.part);
    if (!known || misfit(reading.found) < misfit(known.found)) byPart.set(reading.part, reading);
  }
  return [...byPart.values()];
}

function leaves(group: readonly PartReading[]): number {
  return Math.max(...group.map(({ found }) => misfit(found)));
}
