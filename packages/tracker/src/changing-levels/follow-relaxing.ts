import type { StreakWindow } from "../model/worked-streak.js";
import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import { isOfEdge } from "../one-front/misfit.js";
import { areResidualsRandom } from "../one-front/residuals-random.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { chooseGlow, mayGlow } from "./choose-glow.js";
import { chooseRelaxation } from "./choose-relaxation.js";
import { type ChosenLevels, followExplained } from "./follow-explained.js";
import { glowWindow } from "./glow-window.js";
import { levelsDrift } from "./levels-drift.js";
import { nearPassage } from "./near-passage.js";
import { type FrontRun, relaxingWindow } from "./relaxing-window.js";
import { straightStep } from "./straight-step.js";

/** The levels and the front explain the streak where they leave no more than this times the noise. */
const MOST_LEFT = 1.15;

/** A front followed again with a glow that runs ahead of it and falls off, and with a level behind it that settles, where
 *  these and the front are all that changes.
 *  @returns with how far the lengths, and the way in which the glow meets the front, leave the speed open; null where levels
 *    are constant, or something else changes too
 *  @throws what `options.pause` throws */
export async function followRelaxing(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<Found | null> {
  // What an edge of another form leaves fits short glows, too, and nothing is told of the front then.
  if (isOfEdge(found)) return null;
  const step = straightStep(streak, found);
  if (!step) return null;
  const { front, run, worked, stride } = step;
  // What a front leaves that runs on a bent way or wanders looks like a glow that grows.
  if (!areResidualsRandom(front, worked.numbers)) return null;
  const { positions } = worked.field;
  const noiseVariance = found.look.noise ** 2;
  const doDrift = levelsDrift(worked.field, front.state, front.models, noiseVariance);
  const near = nearPassage(worked.field, run);
  if (!doDrift && !mayGlow(near, run, stride, noiseVariance)) return null;
  const followed = (chosen: ChosenLevels, windowOf: (inAll: FrontRun) => StreakWindow) =>
    followExplained(streak, found, { chosen, windowOf, mostLeft: MOST_LEFT }, options);

  await options.pause();
  const alike = chooseGlow(near, run, stride, noiseVariance);
  const withGlow =
    alike && (await followed(alike, (inAll) => glowWindow(inAll, positions, alike.glow, found.window)));
  if (withGlow || !doDrift) return withGlow;
  const own = await chooseRelaxation(worked, front, stride, noiseVariance, options.pause);
  return own && followed(own, (inAll) => relaxingWindow(inAll, positions, own.relaxation, found.window));
}
