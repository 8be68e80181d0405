import type { TakeResult } from "@frontpace/take";
import { roundDown, roundPair } from "./round.js";

/** The speed, or what is known of it, in a few words with its unit. */
export function speedText(result: TakeResult): string {
  if (result.status === "not-found") return `not measured, ${withoutSpeed(result)}`;
  if (result.status === "bounded") {
    const { value, confidence, complete } = result.lowerBound;
    return `at least ${roundDown(value)} m/s (${confidence * 100} % confidence)${complete ? "" : ", reading only"}`;
  }
  const { speed } = result;
  const { value, halfWidth } = roundPair(speed.value, speed.expandedUncertainty);
  return `${value} m/s +- ${halfWidth} m/s${speed.complete ? "" : ", reading only"}`;
}

function withoutSpeed({ fronts, notFound }: Extract<TakeResult, { status: "not-found" }>): string {
  if (notFound.reason === "interpolated-export") return "the clip was converted";
  return fronts ? "no front chosen" : "no front found";
}
