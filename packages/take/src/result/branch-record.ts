import { speedFrom } from "@frontpace/fit";
import type { FollowedCrack } from "../following/follow-cracks.js";
import type { Settings } from "../settings/settle.js";
import type { TakeResult } from "../types.js";
import { effectsBeyondFit } from "./effects-beyond-fit.js";

type Branch = NonNullable<TakeResult["branches"]>[number];

/** Cracks as they stand in result.json: in the order in which they started. */
export function branchRecord(cracks: readonly FollowedCrack[], settings: Settings): Branch[] {
  return cracks.map(({ course, outcome, parent }): Branch => {
    const [start, end] = [course[0], course[course.length - 1]];
    return {
      parent: parent === null ? null : parent + 1,
      start: [start[0], start[1]],
      end: [end[0], end[1]],
      lengthPixels: course.length - 1,
      ...speedOf(outcome, settings),
      warnings: outcome.warnings.map(({ code }) => code),
    };
  });
}

function speedOf(
  outcome: FollowedCrack["outcome"],
  { rateHz, metresPerPixel }: Settings,
): Pick<
  Branch,
  "firstFrame" | "lastFrame" | "speed" | "standardUncertainty" | "expandedUncertainty" | "reason"
> {
  if (outcome.status !== "tracked")
    return {
      firstFrame: null,
      lastFrame: null,
      speed: null,
      standardUncertainty: null,
      expandedUncertainty: null,
      reason: outcome.status === "crossed" ? "crossed in too few frames" : outcome.reason,
    };
  const { track } = outcome;
  const { further } = effectsBeyondFit(track);
  const { value, standardUncertainty, expandedUncertainty } = speedFrom(
    track.line,
    rateHz,
    metresPerPixel,
    further,
  );
  const { firstFrame, lastFrame } = track;
  return { firstFrame, lastFrame, speed: value, standardUncertainty, expandedUncertainty, reason: null };
}
