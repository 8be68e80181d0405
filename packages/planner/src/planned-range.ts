import type { PlanCompared } from "./comparison-types.js";
import type { SpeedRange } from "./request-types.js";

/** What a prediction of noise and uncertainty is good to, relative: how it compares with rendered takes. */
const PREDICTION = 0.3;
/** Rate, exposure and scale that differ by less are what was set, relative. */
export const AS_SET = 0.01;
/** A front is seen in one frame more or less, by the moment at which it enters. */
export const FRAMES = 1;

/** One value as a range. */
export function exactly(value: number): SpeedRange {
  return { low: value, high: value };
}

/** A predicted value with what predictions are good to. */
export function within(value: number): SpeedRange {
  return { low: value / (1 + PREDICTION), high: value * (1 + PREDICTION) };
}

/** A figure given for the fastest expected speed, over the range of speeds. */
export function overSpeeds({ request }: PlanCompared, atFastest: number, how: "grows" | "falls"): SpeedRange {
  const { low, high } = request.speedMetresPerSecond;
  return how === "grows"
    ? { low: (atFastest * low) / high, high: atFastest }
    : { low: atFastest, high: (atFastest * high) / low };
}
