import { type FollowOptions, type Found, followDivided } from "../one-front/follow-divided.js";
import { leavesMore, misfit } from "../one-front/misfit.js";
import { MOST_UNSURE, unsureness } from "../one-front/unsureness.js";
import type { StripedStreak } from "../streak/read-streak.js";
import { flickerAgainstModel, isFlicker, lightBetweenFrames } from "./flicker.js";
import { fieldOf, lightAheadOf } from "./light-ahead-of.js";

/** Rounds of: brightness against the model, then the model again; until what the slope has still to move is a small
 *  part of its uncertainty, no move being taken to be more than this part of the one before. */
const FLICKER_ROUNDS = 12;
const SETTLED = 0.1;
const SLOWEST = 0.95;
/** Where the model leaves this many times the noise, it is not the light that is missing. */
const HOPELESS = 4;

/** Follows the front in one streak, found without regard to the light; where the brightness of the whole picture varies, from frame to frame
 *  or against the front's own model, that is divided out first, and the surer of the two readings is kept. Light that seems to vary by more than
 *  flicker does may be a front that fills the picture: it is divided out only where nothing else explains the streak, and that explains it better.
 *  @throws what `options.pause` throws */
export async function followInLight(
  streak: StripedStreak,
  plain: Found,
  options: FollowOptions,
): Promise<Found> {
  const seen = againstModel(streak, plain);
  // Averaged straight across the width a tilted front looks like flicker from frame to frame; its model does not.
  if (plain.tangent !== 0 && !seen) return plain;
  const light = lightBetweenFrames(streak.data, streak.shape, plain.look.noise);
  const flicker = light && isFlicker(light) ? light : seen;
  const inFlicker = flicker ? await followDividing(flicker, streak, plain, options) : plain;
  const isExplained = unsureness(inFlicker) < MOST_UNSURE && !leavesMore(inFlicker);
  if (!light || flicker === light || isExplained) return inFlicker;
  const inLight = await followDividing(light, streak, plain, options);
  return misfit(inLight) < misfit(inFlicker) ? surer(inFlicker, inLight) : inFlicker;
}

/** Follows the front with the light divided out, again against its model until it settles. The part ahead of the front is the
 *  witness: where it is steady nothing is divided out, and where the part behind varies otherwise its own variation is.
 *  @returns the surer of the two readings */
async function followDividing(
  said: Float64Array,
  streak: StripedStreak,
  plain: Found,
  options: FollowOptions,
): Promise<Found> {
  const ofPlain = lightAheadOf(streak, plain, said);
  if (ofPlain === "steady") return plain;
  if (plain.front && ofPlain) {
    const { look, front } = plain;
    const byAhead = await followDivided(streak, ofPlain, options, { look, motion: front.motion });
    return byAhead.front ? byAhead : plain;
  }
  let divided = await followDivided(streak, said, options);
  const ofDivided = lightAheadOf(streak, divided, said);
  if (divided.front && ofDivided) {
    const { look, front } = divided;
    const light = ofDivided === "steady" ? null : ofDivided;
    return surer(plain, await followDivided(streak, light, options, { look, motion: front.motion }));
  }
  let lastMove = Number.POSITIVE_INFINITY;
  let open = 0;
  const roughly = divided.tangent === 0;
  for (let round = 0; divided.front && round < FLICKER_ROUNDS; round++) {
    const gain = againstModel(streak, divided);
    if (!gain) return plain;
    const { look, front } = divided;
    const next = await followDivided(streak, gain, options, { look, motion: front.motion, roughly });
    if (!next.front) break;
    const move = Math.abs(next.front.line.slope - front.line.slope);
    // What is still to come if every move is as much smaller than the one before.
    const ratio = Math.min(SLOWEST, move / lastMove);
    open = round === 0 ? move : (move * ratio) / (1 - ratio);
    lastMove = move;
    divided = next;
    if (roughly && misfit(next) > HOPELESS) break;
    if (open < SETTLED * next.front.line.slopeStandardUncertainty) break;
  }
  if (roughly && divided.front) {
    const { look, front } = divided;
    divided = await followDivided(streak, divided.gain, options, { look, motion: front.motion });
  }
  return surer(plain, unsettled(divided, open));
}

/** With what the brightness and the front have not settled between them. */
function unsettled(found: Found, open: number): Found {
  if (!found.front) return found;
  const { line } = found.front;
  const slopeStandardUncertainty = Math.hypot(line.slopeStandardUncertainty, open);
  return { ...found, front: { ...found.front, line: { ...line, slopeStandardUncertainty } } };
}

function againstModel(streak: StripedStreak, found: Found): Float64Array | null {
  if (!found.front) return null;
  const { data, shape } = fieldOf(streak, found);
  return flickerAgainstModel(data, shape, found.look.noise, found.front, found.kept);
}

function surer(plain: Found, divided: Found): Found {
  return unsureness(divided) < unsureness(plain) ? divided : plain;
}
