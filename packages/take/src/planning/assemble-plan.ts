import type { PlannedModes, PlanRequest } from "@frontpace/planner";
import { programVersion } from "../files/program-version.js";
import type { PlanFile } from "../types.js";

/** What a plan is about. */
export interface PlanSubject {
  /** Name of the take that is planned; null where it is not named. */
  readonly take: string | null;
  /** Where the expected speed comes from; null where it was given. */
  readonly material: PlanFile["material"];
  readonly request: PlanRequest;
  readonly cautions: readonly string[];
}

/** Every mode against the wish, as `frontpace plan --json` prints it. */
export interface PlanReport extends Omit<PlanFile, "mode">, PlannedModes {}

/** The report on all modes, and the content of plan.json, keys in the order of the file.
 *  @returns plan null where no mode meets the wish */
export function assemblePlan(
  planned: PlannedModes,
  { take, material, request, cautions }: PlanSubject,
): { readonly report: PlanReport; readonly plan: PlanFile | null } {
  const head = {
    format: "frontpace-plan" as const,
    version: 1 as const,
    program: { name: "frontpace" as const, version: programVersion },
    take,
    material,
    request,
  };
  const { modes, chosen, predictedFrom } = planned;
  return {
    report: { ...head, ...planned, cautions },
    plan: chosen === null ? null : { ...head, mode: modes[chosen], predictedFrom, cautions },
  };
}
