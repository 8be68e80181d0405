import { type WorkedStreak, workedStreak } from "../model/worked-streak.js";
import { ONE_SENSE, onePolarity } from "../one-front/choose-fit.js";
import type { Found } from "../one-front/follow-divided.js";
import type { FollowedFront } from "../one-front/follow-front.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { FrontRun } from "./relaxing-window.js";

/** Positions by which lengths are told, about: evenly along the path. */
const ENOUGH_POSITIONS = 150;

/** A step that runs square to the path and changes the brightness in one sense, about which levels may drift. */
export interface StraightStep {
  readonly front: FollowedFront;
  readonly run: FrontRun;
  /** The streak in the frames in which it was followed. */
  readonly worked: WorkedStreak;
  /** Every so many of the positions are enough to tell lengths by, >= 1. */
  readonly stride: number;
}

/** @returns null where another front was followed, or none: a cloud of cracks, say, fills any form with changes of either sense */
export function straightStep(
  streak: StripedStreak,
  { front, gain, kept, tangent, window }: Found,
): StraightStep | null {
  if (front?.motion.shape !== "step" || tangent !== 0) return null;
  if (onePolarity(front.models) < ONE_SENSE) return null;
  const worked = workedStreak(streak, gain, kept, window);
  const run = { motion: front.motion, numbers: worked.numbers, frontPixels: front.state.frontPixels };
  return { front, run, worked, stride: Math.max(1, Math.floor(streak.shape[1] / ENOUGH_POSITIONS)) };
}
