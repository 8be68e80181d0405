import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import { misfit } from "../one-front/misfit.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { chooseGlow, leftWithout, mayGlow } from "./choose-glow.js";
import { followExplained } from "./follow-explained.js";
import { glowWindow } from "./glow-window.js";
import type { FrontRun } from "./relaxing-window.js";
import { straightStep } from "./straight-step.js";

/** Levels without a glow explain the frames that count where they leave no more than this times the noise. */
const EXPLAINED = 1.15;
/** With one they may leave more: of what else changes something is left in these frames. */
const MOST_LEFT = 1.3;
/** A glow of less than this part of the front's change is none. */
const FAINTEST = 1e-3;

/** A front that was followed in a part of the frames, since other things change in the others, followed again there with a glow
 *  ahead of it. What is left among other things may be a glow that grows, and draws the front after it.
 *  @param found  in a window; its levels drift as they do there
 *  @returns with how far the glow leaves the speed open; null where there is none, or it does not explain the frames that count
 *  @throws what `options.pause` throws */
export async function followGlowing(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<Found | null> {
  const step = straightStep(streak, found);
  if (!step) return null;
  const { run, stride, worked } = step;
  // Of what changes besides the front something is in the noise of the whole take.
  const noiseVariance = found.look.noise ** 2 * Math.min(1, misfit(found));
  // Far from where it belongs a front gains nothing by a first step towards a glow.
  const isExplained = leftWithout(worked.field, run, stride, noiseVariance) < EXPLAINED;
  if (isExplained && !mayGlow(worked.field, run, stride, noiseVariance)) return null;
  await options.pause();
  const chosen = chooseGlow(worked.field, run, stride, noiseVariance);
  if (!chosen || Math.abs(chosen.glow.size) + Math.abs(chosen.glow.growth) < FAINTEST) return null;
  const windowOf = (inAll: FrontRun) => glowWindow(inAll, worked.field.positions, chosen.glow, found.window);
  return followExplained(streak, found, { chosen, windowOf, mostLeft: MOST_LEFT }, options);
}
