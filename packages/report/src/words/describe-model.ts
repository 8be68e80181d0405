import type { ReportedModel } from "./reported-result.js";
import { roundPair, twoDigits } from "./round.js";

/** The model of a motion that was chosen from several, or asked for, as lines for a person; none for a constant speed alone. */
export function describeModel({ name, parameters, tried = [] }: ReportedModel): string[] {
  if (name === "constant" && tried.length === 0) return [];
  const values = Object.entries(parameters).map(([key, { value, standardUncertainty, unit }]) => {
    const rounded = roundPair(value, standardUncertainty);
    return `${key} ${rounded.value} (u = ${rounded.halfWidth}${unit === "1" ? "" : ` ${unit}`})`;
  });
  const of = (wanted: NonNullable<ReportedModel["tried"]>[number]) =>
    wanted.aiccAboveLeast === null
      ? `${wanted.name} (not determined)`
      : `${wanted.name} (+${twoDigits(wanted.aiccAboveLeast)})`;
  const others = tried.filter(({ verdict }) => verdict !== "chosen");
  const asGood = others.filter(({ verdict }) => verdict === "as-good").map(of);
  const rejected = others.filter(({ verdict }) => verdict !== "as-good").map(of);
  return [
    `model: ${name}, ${values.join(", ")}${name === "constant" ? "" : "; the speed above is that at the middle of the observed range"}`,
    ...(asGood.length > 0 ? [`as good, by AICc above the least: ${asGood.join(", ")}`] : []),
    ...(rejected.length > 0 ? [`rejected, by AICc above the least: ${rejected.join(", ")}`] : []),
  ];
}
