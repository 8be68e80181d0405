import type { ComparedQuantity } from "@frontpace/planner";
import { compareTake } from "../planning/compare-take.js";
import { planHash } from "../planning/plan-hash.js";
import type { PlanFile, TakeResult } from "../types.js";

const IN_WORDS: Readonly<Record<ComparedQuantity["quantity"], string>> = {
  columns: "number of columns",
  rows: "number of rows",
  rateHz: "rate",
  exposureSeconds: "exposure",
  metresPerPixel: "length of a pixel",
  speed: "speed",
  framesAcross: "number of frames across",
  pixelsPerFrame: "way from frame to frame, px,",
  blurPixels: "blur",
  stepToNoise: "step to noise",
  relativeUncertainty: "uncertainty of the speed",
};

/** The result with its plan held against it, and the warning `plan-not-held` where it does not hold.
 *  @throws PlannerError `different-takes` */
export function withPlan(result: TakeResult, plan: PlanFile): TakeResult {
  const comparison = compareTake(plan, result);
  const { warnings, ...rest } = result;
  const broken = comparison.quantities.filter(({ holds }) => !holds);
  const what =
    broken.length > 0
      ? broken
          .map(
            ({ quantity, label, reason }) =>
              `${IN_WORDS[quantity]}${label ? ` (${label})` : ""} is ${reason}`,
          )
          .join("; ")
      : `the take is ${result.status}`;
  const message = `the plan did not hold: ${what}`;
  return {
    ...rest,
    take: { ...rest.take, planHash: planHash(plan) },
    comparison,
    warnings: comparison.held ? warnings : [...warnings, { code: "plan-not-held", message }],
  } as TakeResult;
}
