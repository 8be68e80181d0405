import type { Streak } from "@frontpace/tracker";
import type { MeasuredResult, TakeResult } from "../types.js";

/** What a report shows beside the answer. */
export type Evidence = Pick<MeasuredResult, "track" | "speedAlong" | "streak" | "event">;

/** The result with what a report of it shows, before its warnings. */
export function withEvidence(result: TakeResult, evidence: Evidence): TakeResult {
  const { warnings, ...rest } = result;
  const { track, speedAlong, streak, event } = evidence;
  return {
    ...rest,
    ...(track && { track }),
    ...(speedAlong && { speedAlong }),
    ...(streak && { streak }),
    ...(event && { event }),
    warnings,
  } as TakeResult;
}

/** Extent of a streak, or nothing where it has no frame. */
export function streakRecord(
  { shape: [frames, samples], frameNumbers, path: [from, to] }: Streak,
  channel: "brightness" | "departures",
): Pick<Evidence, "streak"> {
  if (frames === 0) return {};
  const steps = frameNumbers.slice(1).map((number, k) => number - frameNumbers[k]);
  return {
    streak: {
      channel,
      firstFrame: frameNumbers[0],
      lastFrame: frameNumbers[frames - 1],
      frameStep: steps.length > 0 ? steps.reduce((least, step) => Math.min(least, step)) : 1,
      lengthPixels: Math.hypot(to[0] - from[0], to[1] - from[1]),
      samples,
    },
  };
}
