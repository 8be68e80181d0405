import type { ObservedTake } from "@frontpace/planner";
import type { TakeResult } from "../types.js";
import { inputUncertainties } from "./input-uncertainties.js";

/** What of a result a plan is held against. */
export function observedTake(result: TakeResult): ObservedTake {
  const { take } = result;
  const [[x1, y1], [x2, y2]] = take.path;
  return {
    name: take.name,
    columns: take.columns,
    rows: take.rows,
    rateHz: take.rateHz,
    metresPerPixel: take.metresPerPixel,
    exposureSeconds: take.lightPulseSeconds ?? take.exposureSeconds,
    outcome: outcomeOf(result, Math.hypot(x2 - x1, y2 - y1)),
  };
}

function outcomeOf(result: TakeResult, pathPixels: number): ObservedTake["outcome"] {
  if (result.status === "not-found") return { status: "not-found", message: result.notFound.message };
  if (result.status === "bounded") {
    const { value, lastFrameBefore, firstFrameAfter, lengthPixels } = result.lowerBound;
    const frames = firstFrameAfter - lastFrameBefore;
    return { status: "bounded", lowerBound: value, frames, crossedPixels: lengthPixels };
  }
  const { speed, front } = result;
  return {
    status: "measured",
    speed: speed.value,
    expandedUncertainty: speed.expandedUncertainty,
    relativeUncertainties: inputUncertainties(speed),
    framesUsed: front.framesUsed,
    pathPixels,
    stepToNoise: front.stepToNoise ?? null,
  };
}
