import type { PlanRequest } from "@frontpace/planner";
import { TakeError } from "../take-error.js";
import type { TakeResult } from "../types.js";
import { inputUncertainties } from "./input-uncertainties.js";

/** What the result of an earlier take lends to a plan: step to noise and the exposure at which it held, the blur of the edge, and
 *  the uncertainties that image noise does not hold.
 *  @throws TakeError `earlier-not-measured` where the take gave no speed */
export function earlierTake(
  result: TakeResult,
): Pick<PlanRequest, "stepToNoise" | "goodExposureSeconds" | "edgeBlurPixels" | "earlier"> {
  const { take } = result;
  if (result.status !== "measured")
    throw new TakeError(
      "earlier-not-measured",
      `the earlier take ${take.name} is ${result.status}, so it tells neither step to noise nor wander: name the result of a measured take`,
      { key: "earlier" },
    );
  const { speed, front } = result;
  const lines = speed.value > 0 ? inputUncertainties(speed) : [];
  const share = (source: string): number | null =>
    lines.find((line) => line.source === source)?.relative ?? null;
  const exposure = take.lightPulseSeconds ?? take.exposureSeconds;
  return {
    ...(front.stepToNoise !== undefined && front.stepToNoise > 0 && { stepToNoise: front.stepToNoise }),
    ...(exposure !== null && { goodExposureSeconds: exposure }),
    ...(front.edgeBlurPixels !== undefined &&
      front.edgeBlurPixels > 0 && { edgeBlurPixels: front.edgeBlurPixels }),
    earlier: {
      name: take.name,
      relativeWander: share("wander"),
      // Stated uncertainties only: missing is not zero.
      relativeScale: speed.missing.includes("scale") ? null : share("scale"),
      relativeRate: speed.missing.includes("rate") ? null : share("rate"),
    },
  };
}
