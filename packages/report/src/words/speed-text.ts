import type { ReportedResult } from "./reported-result.js";
import { roundDown, roundPair } from "./round.js";

/** The speed, or what is known of it, in a few words with its unit. */
export function speedText({ speed, lowerBound, notFound, fronts }: ReportedResult): string {
  if (speed) {
    const { value, halfWidth } = roundPair(speed.value, speed.expandedUncertainty);
    return `${value} m/s +- ${halfWidth} m/s${speed.complete ? "" : ", reading only"}`;
  }
  if (lowerBound) {
    const { value, confidence, complete } = lowerBound;
    return `at least ${roundDown(value)} m/s (${confidence * 100} % confidence)${complete ? "" : ", reading only"}`;
  }
  if (notFound?.reason === "interpolated-export") return "not measured, the clip was converted";
  return `not measured, ${fronts ? "no front chosen" : "no front found"}`;
}
