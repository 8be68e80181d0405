import { median } from "@frontpace/fit";
import type { PositionModel } from "../model/front-model.js";
import { riseFrames } from "../model/passage.js";
import type { Found } from "../one-front/follow-divided.js";
import { type FollowedFront, relativeUncertainty } from "../one-front/follow-front.js";
import { clearlySeen } from "../one-front/seen-positions.js";
import { MOST_UNSURE, unsureness } from "../one-front/unsureness.js";
import { asOpenAsRead } from "./as-open-as-read.js";
import { isSamePassage, LEAST_FRAMES_APART, positionsApart } from "./positions-apart.js";

/** A position supports another front where the change is this part of the one that the surest front makes. */
const LEAST_CHANGE = 0.15;
/** Part of the path that must support another front, and of the positions between the first and last of these. */
const LEAST_POSITIONS = 0.15;
const FEWEST_POSITIONS = 8;
const LEAST_FILLED = 0.35;
/** Part of these that another front must pass at a clearly other time: later or earlier than both take to pass, or half
 *  of that where their speeds differ; the others may lie about the place where two fronts cross. */
const LEAST_APART = 0.35;
/** Fronts whose speeds differ by less than this, relatively, run beside each other; one that changes the brightness in
 *  the other sense must then be about as sharp as the other, or it is what the first one leaves behind that passes again. */
const BESIDE = 0.15;
const AS_SHARP = 1.5;
/** A front is at most this many times as blurred as the sharpest. */
const MOST_BLURRED = 3;
/** A reading that is seen at less than this part of the positions of the one that is seen at most may be a part of it. */
const LEAST_OF_MOST = 0.5;
/** The sharpest counts among readings that are told to this, relative, and seen at this part of the positions. */
const SURE = 0.02;
const MOST_POSITIONS = 0.4;
/** What the readings of one streak come to. */
export interface SortedReadings {
  /** Fronts that are each one of its own; the surest first, of those that are seen at many positions. */
  readonly fronts: readonly Found[];
  /** Readings of the same passage as one of the fronts, or of what runs ahead of it or behind it. */
  readonly others: readonly Found[];
}

/** Tells fronts of their own, sharp changes that run along the path at positions and times of their own, from other
 *  readings of the same front, of its glow and of what it leaves behind. */
export function sortReadings(readings: readonly Found[]): SortedReadings {
  const blur = ({ front }: Found) => Math.max(1, front?.motion.blurPixels ?? Number.POSITIVE_INFINITY);
  // A wide change, of a cloud or a glow, can be surer than the front: it changes more.
  const sharpest = Math.min(...readings.filter(isSupported).map(blur));
  const isSharp = (reading: Found) => blur(reading) <= MOST_BLURRED * sharpest;
  // Of a front that wanders, those few positions that lie on a straight line tell a speed most surely.
  const seen = new Map(
    readings.map((reading) => [reading, reading.front ? clearlySeen(reading.front).length : 0]),
  );
  const most = Math.max(...seen.values());
  const isWhole = (reading: Found) => (seen.get(reading) ?? 0) >= LEAST_OF_MOST * most;
  const fronts: Found[] = [];
  const others: Found[] = [];
  const bySureness = [...readings].sort(
    (a, b) =>
      Number(isSharp(b)) - Number(isSharp(a)) ||
      Number(isWhole(b)) - Number(isWhole(a)) ||
      unsureness(a) - unsureness(b),
  );
  const withGlow = bySureness.filter((reading) => glows(reading) && isSharp(reading) && isWhole(reading));
  const ordered = new Set(
    bySureness.flatMap((reading) => [...withGlow.filter((one) => isSamePassage(one, reading)), reading]),
  );
  for (const reading of ordered) {
    const { front } = reading;
    if (fronts.length === 0) fronts.push(reading);
    else if (front && fronts.every((other) => other.front && isAnother(front, other.front)))
      fronts.push(reading);
    else others.push(reading);
  }
  if (fronts.length > 1) return { fronts, others };
  const alike = others.filter((other) => isSharp(other) && isWhole(other));
  return { fronts: fronts.map((front) => asOpenAsRead(front, alike)), others };
}

/** Whether a reading explains what runs ahead of its front: those of the same passage that do not are surer than they should be. */
function glows({ window }: Found): boolean {
  return window?.drift?.(0).ahead !== undefined;
}

/** Whether a reading is told well, and at enough positions, to judge others by. */
function isSupported({ front }: Found): boolean {
  return (
    front !== null &&
    front.motion.shape === "step" &&
    relativeUncertainty(front) < SURE &&
    clearlySeen(front).length > MOST_POSITIONS * front.models.length
  );
}

/** Whether a reading is a front of its own beside a surer one. */
function isAnother(front: FollowedFront, surer: FollowedFront): boolean {
  if (front.motion.shape !== surer.motion.shape || relativeUncertainty(front) > MOST_UNSURE) return false;
  const blurs = [front, surer].map(({ motion }) => Math.max(1, motion.blurPixels));
  if (Math.max(...blurs) > MOST_BLURRED * Math.min(...blurs)) return false;
  const own = clearlySeen(surer);
  const usual = own.length ? median(own.map(({ change }) => Math.abs(change))) : 0;
  const support = clearlySeen(front).filter(({ change }) => Math.abs(change) > LEAST_CHANGE * usual);
  if (support.length < Math.max(FEWEST_POSITIONS, LEAST_POSITIONS * front.models.length)) return false;
  const reach = support[support.length - 1].position - support[0].position + 1;
  if (support.length < LEAST_FILLED * reach) return false;
  const ratio = front.motion.slopePixelsPerFrame / surer.motion.slopePixelsPerFrame;
  const isBeside = Math.abs(ratio - 1) < BESIDE;
  const bothRise = (riseFrames(front.motion) + riseFrames(surer.motion)) / (isBeside ? 1 : 2);
  const rises = Math.max(LEAST_FRAMES_APART, bothRise);
  const apart = positionsApart(support, front, surer, rises);
  if (apart.length < Math.max(FEWEST_POSITIONS, LEAST_APART * support.length)) return false;
  return (
    !isBeside ||
    sumOfChange(support) * sumOfChange(own) > 0 ||
    Math.max(...blurs) < AS_SHARP * Math.min(...blurs)
  );
}

function sumOfChange(models: readonly PositionModel[]): number {
  return models.reduce((sum, { change }) => sum + change, 0);
}
