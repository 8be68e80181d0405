import { type BentWay, bentWay } from "../first-look/bent-way.js";
import { type ChangeShape, changeInTime } from "../first-look/change-in-time.js";
import type { FirstLook } from "../first-look/find-front.js";
import { pairStarts } from "../first-look/pair-starts.js";
import { sharpStart } from "../first-look/sharp-start.js";
import { flickerBetweenFrames } from "../light/flicker.js";
import { type FrontMotion, jointFit } from "../model/joint-fit.js";
import { positionAt } from "../model/passage.js";
import { workedStreak } from "../model/worked-streak.js";
import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { leavesMore } from "../one-front/misfit.js";
import type { StripedStreak } from "../streak/read-streak.js";

/** The one front of a streak followed about the way that the changes of all positions show, however bent: a straight line that is laid
 *  through a way with turns of speed misses the sharp front almost everywhere.
 *  @param found  what a straight line led to
 *  @returns null where the changes show no such way, or a front on it does not explain the streak
 *  @throws what `options.pause` throws */
export async function followBent(
  streak: StripedStreak,
  { look, kept }: Found,
  options: FollowOptions,
): Promise<Found | null> {
  // Against its model a front that was missed makes flicker; from frame to frame it crosses few positions.
  const gain = flickerBetweenFrames(streak.data, streak.shape, look.noise);
  const { field, numbers } = workedStreak(streak, gain, kept);
  const fits = shapesOf(look, options).flatMap((shape) => {
    const way = bentWay(
      changeInTime(field.data, [field.frames, field.positions], look.noise, shape, options.sign),
      numbers,
    );
    if (!way) return [];
    const chord = chordOf(way, shape, options.exposureFraction);
    const departurePixels = streak.frameNumbers.map(
      (number) => way.positionAt(number) - positionAt(chord, number),
    );
    const ofKept = kept.map((frame) => departurePixels[frame]);
    return [chord, ...(shape === "pulse" ? pairStarts(chord) : [])].map((start) => ({
      ...jointFit(field, numbers, start, ofKept),
      departurePixels: Float64Array.from(departurePixels),
    }));
  });
  if (fits.length === 0) return null;
  const { motion, departurePixels } = fits.reduce((best, fit) =>
    fit.sumOfSquares < best.sumOfSquares ? fit : best,
  );
  const followed = await followDivided(streak, gain, options, { look, motion, departurePixels });
  return followed.front && !leavesMore(followed) ? followed : null;
}

/** What passes has a way of its own where it shows more of a line than what stays, and leaves nothing of a stated polarity. */
function shapesOf({ candidates }: FirstLook, { sign }: FollowOptions): readonly ChangeShape[] {
  const evidence = (of: ChangeShape) =>
    Math.max(0, ...candidates.flatMap(({ shape, line }) => (shape === of ? line.evidence : [])));
  return sign === 0 && evidence("pulse") > evidence("step") ? ["step", "pulse"] : ["step"];
}

/** The straight line between the ends of a way, with a look to start from. */
function chordOf(way: BentWay, shape: ChangeShape, exposureFraction: number | undefined): FrontMotion {
  const [begin, end] = way.ends;
  const from = way.positionAt(begin);
  const slopePixelsPerFrame = (way.positionAt(end) - from) / (end - begin);
  const interceptPixels = from - slopePixelsPerFrame * begin;
  return sharpStart(shape, { interceptPixels, slopePixelsPerFrame }, exposureFraction);
}
