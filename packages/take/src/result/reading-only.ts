import type { Settings } from "../settings/settle.js";
import type { TakeWarning } from "../types.js";

type InputName = "rate" | "scale";

/** Inputs given without an uncertainty. Missing is not zero. */
export function unstated({ rateHz, metresPerPixel }: Settings): InputName[] {
  const missing: InputName[] = [];
  if (metresPerPixel.standardUncertainty === undefined) missing.push("scale");
  if (rateHz.standardUncertainty === undefined) missing.push("rate");
  return missing;
}

/** Says that the interval or bound is of the reading alone, and how to complete it. */
export function readingOnly(missing: readonly InputName[], what: "interval" | "bound"): TakeWarning {
  const how = {
    rate: "--rate 800k+-0.01% or rateUncertaintyHz",
    scale: "--scale 0.2mm+-0.5% or metresPerPixelUncertainty",
  };
  const names = missing.join(" and ");
  const ways = missing.map((name) => how[name]).join(", ");
  const message = `the ${names} came without an uncertainty, so the ${what} is of the reading only; state one standard uncertainty (${ways}), or +-0 if exact`;
  return { code: "reading-only", message };
}
