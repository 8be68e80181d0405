import { OTHER_FORMS, profileReach } from "../model/edge-profile.js";
import { jointFit, smearOf } from "../model/joint-fit.js";
import { positionAt } from "../model/passage.js";
import { varianceByOther } from "../model/variance-by-other.js";
import { workedStreak } from "../model/worked-streak.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { type FollowOptions, type Found, followDivided } from "./follow-divided.js";
import type { FollowedFront } from "./follow-front.js";
import { misfit } from "./misfit.js";

/** What an edge of another form must gain of the sum of squares over the noise variance: four standard deviations. */
const LIKELY = 16;
/** And with it the front must explain the streak, leaving no more than this times the noise, with an edge about as wide as the Gaussian one: where
 *  something else changes, too (a level that decays behind the front), another form explains a part of that. */
const MOST_LEFT = 1.15;
const AS_WIDE = 1.6;
/** Steps from the Gaussian edge to another: they differ by little. */
const STEPS = 10;

/** A front that is inside the picture in the first frame or in the last, followed with the edge that explains it best. There the levels
 *  before it, or behind it, are seen in its tails alone: with tails of another form they, and with them the front, come out
 *  elsewhere at the beginning than at the end. A front that enters and leaves does not depend on it.
 *  @returns with how far the form leaves the speed open
 *  @throws what `options.pause` throws */
export async function followOwnForm(
  streak: StripedStreak,
  found: Found,
  options: FollowOptions,
): Promise<Found> {
  const { front, look, gain, kept, window, tangent } = found;
  if (front?.motion.shape !== "step" || tangent !== 0 || !isInsideAtAnEnd(front, streak.shape[1]))
    return found;
  const { field, numbers } = workedStreak(streak, gain, kept, window);
  const departures = front.state.frontPixels.map(
    (pixels, k) => pixels - positionAt(front.motion, numbers[k]),
  );
  await options.pause();
  const [gaussian, ...others] = (["gaussian", ...OTHER_FORMS] as const).map((form) => {
    const { motion, sumOfSquares } = jointFit(field, numbers, { ...front.motion, form }, departures, {
      steps: STEPS,
    });
    return { motion, left: sumOfSquares / front.noiseVariance };
  });
  const least = others.reduce((best, other) => (other.left < best.left ? other : best));
  const best = gaussian.left - least.left > LIKELY ? least : gaussian;
  const from = { look, motion: best.motion, ...(window && { window }) };
  const own = best === gaussian ? found : await followDivided(streak, gain, options, from);
  if (!own.front || misfit(own) > MOST_LEFT) return found;
  if (own.front.motion.blurPixels > AS_WIDE * front.motion.blurPixels) return found;
  const openVariance = [gaussian, ...others].reduce((most, { motion, left }) => {
    const apart = motion.slopePixelsPerFrame - best.motion.slopePixelsPerFrame;
    return Math.max(most, varianceByOther(apart, left - best.left));
  }, 0);
  return { ...own, slopeOpenPixels: Math.hypot(found.slopeOpenPixels ?? 0, Math.sqrt(openVariance)) };
}

/** Whether the first frame or the last shows some of the front on the path. */
function isInsideAtAnEnd({ motion, state: { frontPixels } }: FollowedFront, positions: number): boolean {
  const reach = profileReach(motion.blurPixels, smearOf(motion));
  return [frontPixels[0], frontPixels[frontPixels.length - 1]].some(
    (pixels) => pixels > -reach && pixels < positions - 1 + reach,
  );
}
