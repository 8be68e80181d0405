import { type StreakWindow, workedStreak } from "../model/worked-streak.js";
import { ONE_SENSE, onePolarity } from "../one-front/choose-fit.js";
import type { FollowOptions, Found } from "../one-front/follow-divided.js";
import { isOfEdge } from "../one-front/misfit.js";
import { areResidualsRandom } from "../one-front/residuals-random.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { chooseGlow, mayGlow } from "./choose-glow.js";
import { chooseRelaxation } from "./choose-relaxation.js";
import { type ChosenLevels, enoughPositions, followExplained } from "./follow-explained.js";
import { glowWindow } from "./glow-window.js";
import { levelsDrift } from "./levels-drift.js";
import { nearPassage } from "./near-passage.js";
import { type FrontRun, relaxingWindow } from "./relaxing-window.js";

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
  const { front, look, gain, kept, tangent } = found;
  if (front?.motion.shape !== "step" || tangent !== 0) return null;
  // What an edge of another form leaves fits short glows, too, and nothing is told of the front then.
  if (isOfEdge(found)) return null;
  // A cloud of cracks fills any form with changes of either sense.
  if (onePolarity(front.models) < ONE_SENSE) return null;
  const positions = streak.shape[1];
  const worked = workedStreak(streak, gain, kept, found.window);
  // What a front leaves that runs on a bent way or wanders looks like a glow that grows.
  if (!areResidualsRandom(front, worked.numbers)) return null;
  const noiseVariance = look.noise ** 2;
  const stride = enoughPositions(positions);
  const start = { motion: front.motion, numbers: worked.numbers, frontPixels: front.state.frontPixels };
  const doDrift = levelsDrift(worked.field, front.state, front.models, noiseVariance);
  const near = nearPassage(worked.field, start);
  if (!doDrift && !mayGlow(near, start, stride, noiseVariance)) return null;
  const followed = (chosen: ChosenLevels, windowOf: (run: FrontRun) => StreakWindow) =>
    followExplained(streak, found, { chosen, windowOf, mostLeft: MOST_LEFT }, options);

  await options.pause();
  const alike = chooseGlow(near, start, stride, noiseVariance);
  const withGlow =
    alike && (await followed(alike, (run) => glowWindow(run, positions, alike.glow, found.window)));
  if (withGlow || !doDrift) return withGlow;
  const own = await chooseRelaxation(worked, front, stride, noiseVariance, options.pause);
  return own && followed(own, (run) => relaxingWindow(run, positions, own.relaxation, found.window));
}
