import { compareQuantity, type Observation } from "./compare-quantity.js";
import type { ComparedQuantity, PlanCompared } from "./comparison-types.js";
import { fourDigits, lengthText, timeText } from "./four-digits.js";
import { AS_SET, exactly } from "./planned-range.js";

/** What the operator sets, and was set; null where the take does not say. */
export type Settings = Readonly<
  Record<"columns" | "rows" | "rateHz" | "exposureSeconds" | "metresPerPixel", number | null>
>;

/** What the operator sets: the mode, its exposure and scale. A cropped picture does no harm by itself. */
export function compareSettings(
  { mode }: Pick<PlanCompared, "mode">,
  observed: Settings,
): ComparedQuantity[] {
  const set = (quantity: Setting, harmful: Observation["harmful"], because: string) =>
    compareQuantity({
      quantity,
      planned: exactly(mode[quantity]),
      observed: observed[quantity],
      allowance: mode[quantity] * (quantity === "columns" || quantity === "rows" ? 0 : AS_SET),
      harmful,
      because,
      next: `set ${inUnits(quantity, mode[quantity])}, or plan with what was set`,
    });
  return [
    set("columns", "neither", "another mode was set, or the frames were cropped"),
    set("rows", "neither", "another mode was set, or the frames were cropped"),
    set("rateHz", "less", "another rate was set"),
    set("exposureSeconds", "more", "another exposure was set"),
    set("metresPerPixel", "less", "nearer, or a longer lens: the picture shows less of the way"),
  ];
}

type Setting = keyof Settings;

function inUnits(quantity: Setting, value: number): string {
  if (quantity === "exposureSeconds") return `an exposure of ${timeText(value)}`;
  if (quantity === "metresPerPixel") return `${lengthText(value)} a pixel`;
  return `${fourDigits(value)} ${quantity === "rateHz" ? "frames/s" : quantity}`;
}
