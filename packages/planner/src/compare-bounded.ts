import { compareQuantity } from "./compare-quantity.js";
import type { ComparedQuantity, ObservedTake, PlanCompared } from "./comparison-types.js";
import { expectedFrom } from "./expected-from.js";
import { fourDigits, framesText, lengthText, noLess } from "./four-digits.js";
import { FRAMES, overSpeeds } from "./planned-range.js";

/** Frames that place a front at least where its speed is measured. */
const FEWEST_FRAMES = 3;

type Bounded = Extract<ObservedTake["outcome"], { status: "bounded" }>;

/** What a take with a bounded speed showed, against its plan. */
export function compareBounded(
  plan: PlanCompared,
  observed: ObservedTake,
  outcome: Bounded,
): ComparedQuantity[] {
  const { lowerBound, frames } = outcome;
  const rate = noLess(lowestRate(observed, outcome));
  const { speedMetresPerSecond: speed, lengthMetres } = plan.request;
  const { framesAcross } = plan.mode;
  const planned = noLess((framesAcross * lowerBound) / lengthMetres);
  const faster = lowerBound > speed.high;
  return [
    compareQuantity({
      quantity: "speed",
      planned: speed,
      observed: faster ? lowerBound : null,
      allowance: 0,
      harmful: "either",
      because: `the front ran at least so fast${expectedFrom(plan)}`,
      next: `plan with ${fourDigits(lowerBound)} m/s or more`,
      unknown: `only bounded: at least ${fourDigits(lowerBound)} m/s, which does not contradict the plan`,
    }),
    compareQuantity({
      quantity: "framesAcross",
      planned: overSpeeds(plan, framesAcross, "falls"),
      observed: frames,
      allowance: FRAMES,
      harmful: "less",
      because: "the front crossed too fast to follow",
      next: `record ${rate} frames/s or more: then ${framesWanted(observed, outcome)} frames see a front that runs at the bound, and it may be faster; ${planned} frames/s for the ${framesText(framesAcross)} planned over ${lengthText(lengthMetres)}`,
    }),
  ];
}

/** Rate at which a front at the bound is in enough frames of the path it was seen to cross; always more than the rate
 *  that did not measure it. */
export function lowestRate(observed: ObservedTake, outcome: Bounded): number {
  const { lowerBound, crossedPixels } = outcome;
  return (framesWanted(observed, outcome) * lowerBound) / (crossedPixels * observed.metresPerPixel);
}

/** More than there were of a front at the bound. */
function framesWanted(
  { metresPerPixel, rateHz }: ObservedTake,
  { lowerBound, crossedPixels }: Bounded,
): number {
  const were = (crossedPixels * metresPerPixel * rateHz) / lowerBound;
  return Math.max(FEWEST_FRAMES, Math.floor(were * (1 + ROUNDING)) + 1);
}

/** Differences beneath this are of rounding. */
const ROUNDING = 1e-9;
