import type { BudgetLine } from "@frontpace/fit";
import type { TakeWarning } from "../types.js";

/** Says that the level at which the front is read decides the speed: where that line of the budget outweighs all
 *  others together, standard uncertainties in quadrature.
 *  @returns no warning or one */
export function frontDefinitionWarning(budget: readonly BudgetLine[]): TakeWarning[] {
  const together = (lines: readonly BudgetLine[]) =>
    Math.hypot(...lines.map(({ standardUncertainty }) => standardUncertainty));
  const isDefinition = ({ source }: BudgetLine) => source === "front definition";
  const definition = together(budget.filter(isDefinition));
  const rest = together(budget.filter((line) => !isDefinition(line)));
  if (!(definition > rest)) return [];
  const message =
    "how fast the front ran hangs on the level at which it is read: its change grows wider or narrower on the way, and that outweighs everything else in the budget. Look at the streak, and give the frames in which its shape stays the same, or say with the speed that the middle of the change was followed";
  return [{ code: "front-definition", message }];
}
