import type { ReportedBranch, ReportedResult } from "./reported-result.js";
import { roundPair } from "./round.js";

/** Cracks that were followed along their own courses, numbered. */
export function describeBranches({ branches, take }: ReportedResult): string[] {
  if (!branches) return [];
  if (branches.length === 1)
    return [`crack: a thin line, followed along its own course over ${branches[0].lengthPixels} px`];
  return [
    `cracks: ${branches.length}, each followed along its own course${take.front === undefined ? "" : `; the speed is that of number ${take.front}`}`,
    ...branches.map((branch, k) => `  ${k + 1}: ${branchText(branch)}`),
  ];
}

/** A branch in words. */
export function branchText(branch: ReportedBranch): string {
  const { parent, speed, expandedUncertainty, firstFrame, lastFrame, lengthPixels, reason, warnings } =
    branch;
  const from = parent === null ? "" : `, from ${parent}`;
  if (speed === null || expandedUncertainty === null)
    return `not measured (${reason}), ${lengthPixels} px${from}`;
  const { value, halfWidth } = roundPair(speed, expandedUncertainty);
  const flags = warnings.length > 0 ? `; ${warnings.join(", ")}` : "";
  return `${value} m/s +- ${halfWidth} m/s (95 %), frames ${firstFrame} to ${lastFrame}, ${lengthPixels} px${from}${flags}`;
}
