import { type FrontMotion, jointFit } from "../model/joint-fit.js";
import { positionAt } from "../model/passage.js";
import { workedStreak } from "../model/worked-streak.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { type FollowedFront, relativeUncertainty } from "../one-front/follow-front.js";
import { misfit } from "../one-front/misfit.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { followGlowing } from "./follow-glowing.js";
import { slopingWindow } from "./sloping-window.js";

/** Frames before and after the passage that tell levels and slopes, from narrow to wide. */
const MARGINS = [2, 4, 8, 16];
/** A window is too wide where this many times the noise is left in it, or where it gives another speed than a narrower
 *  one by more than this many uncertainties. */
const MOST_LEFT = 1.2;
const APART = 1;
/** A front that is less sure than this with slopes is not read with them. */
const MOST_UNSURE = 0.05;
/** Rounds of: windows about the passage, then the passage again; until it moves by less than this, px, at either end. */
const ROUNDS = 4;
const SETTLED = 0.05;

/** A front followed again with levels that have slopes in time: in a window close about its passage, as wide as leaves no
 *  more than noise and gives the speed that narrower ones give.
 *  @returns with how far the narrower windows stand apart beyond noise; null where even the narrowest leaves more than
 *    noise or the front is hardly told
 *  @throws what `options.pause` throws */
export async function followSloping(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<Found | null> {
  let best: Found | null = null;
  let spread = 0;
  let start = found;
  for (const margin of MARGINS) {
    const next = await inWindow(streak, start, margin, options);
    if (!next?.front || misfit(next) > MOST_LEFT) break;
    if (best?.front) {
      const [apart, beyondNoise] = differenceOf(next.front, best.front);
      if (apart > APART) break;
      spread = Math.max(spread, beyondNoise / 2);
    }
    best = next;
    start = next;
  }
  if (!best?.front || relativeUncertainty(best.front) >= MOST_UNSURE) return null;
  const glowing = await followGlowing(streak, best, options);
  const { slopeOpenPixels = 0 } = glowing ?? {};
  return { ...(glowing ?? best), slopeOpenPixels: Math.hypot(spread, slopeOpenPixels) };
}

/** How far two readings of the same front stand apart, in uncertainties, and px a frame beyond what the noise of the
 *  samples that they do not share explains. */
function differenceOf(wide: FollowedFront, narrow: FollowedFront): readonly [number, number] {
  const difference = wide.line.slope - narrow.line.slope;
  const [u, v] = [wide.line.slopeStandardUncertainty, narrow.line.slopeStandardUncertainty];
  return [
    Math.abs(difference) / Math.hypot(u, v),
    Math.sqrt(Math.max(0, difference ** 2 - Math.abs(u ** 2 - v ** 2))),
  ];
}

async function inWindow(
  streak: StripedStreak,
  { front, look, kept, gain }: Found,
  margin: number,
  options: FollowOptions,
): Promise<Found | null> {
  if (!front) return null;
  let { motion } = front;
  const windowOf = () => slopingWindow(motion, streak.shape[1], streak.frameNumbers, margin);
  for (let round = 0; round < ROUNDS; round++) {
    await options.pause();
    const { field, numbers } = workedStreak(streak, gain, kept, windowOf());
    const next = jointFit(field, numbers, motion).motion;
    const moved = Math.max(
      apartAt(next, motion, numbers[0]),
      apartAt(next, motion, numbers[numbers.length - 1]),
    );
    motion = next;
    if (moved < SETTLED) break;
  }
  const found = await followDivided(streak, gain, options, { look, motion, window: windowOf() });
  return found.front ? found : null;
}

function apartAt(a: FrontMotion, b: FrontMotion, number: number): number {
  return Math.abs(positionAt(a, number) - positionAt(b, number));
}
