import type { CalibrateOptions } from "@frontpace/take";
import { wrong } from "../arguments/option-parsers.js";
import { type ParsedQuantity, parseQuantity } from "../arguments/parse-quantity.js";
import { lengthRule } from "../arguments/units.js";
import { CliError } from "../terminal/cli-error.js";
import type { CalibrateTexts } from "./calibrate-options.js";

/** At 589 nm and 20 °C (Handbook of Chemistry and Physics; from memory). */
const REFRACTIVE_INDEXES: Readonly<Record<string, number>> = { air: 1.0003, water: 1.333 };

/** What of the event lies otherwise than the standard did, and what it runs in. */
export function depthOf({
  distance,
  depthOffset,
  window,
  medium,
}: CalibrateTexts): Pick<CalibrateOptions, "medium" | "depth"> {
  const [name, layer] = medium === undefined ? [undefined, undefined] : mediumOf(medium);
  const plates = [...(window === undefined ? [] : [windowOf(window)]), ...(layer ? [layer] : [])];
  const isDeep = depthOffset !== undefined || plates.length > 0;
  if (distance === undefined && isDeep)
    throw new CliError(
      "invalid-option",
      "--depth-offset, --window and a depth in --medium need --distance, from the camera's lens to the standard, for example --distance 600mm+-5mm",
    );
  return {
    ...(name !== undefined && { medium: name }),
    ...(isDeep && {
      depth: {
        distance: parseQuantity(
          distance!,
          lengthRule("--distance", "the distance to the standard", "600mm+-5mm"),
        ),
        ...(depthOffset !== undefined && { depthOffset: offsetOf(depthOffset) }),
        plates,
      },
    }),
  };
}

function offsetOf(text: string): ParsedQuantity {
  const rule = {
    ...lengthRule("--depth-offset", "how much farther the event runs", "20mm+-1mm"),
    isOffset: true,
  };
  const isNearer = text.trim().startsWith("-");
  if (/^[+-]?0+(\.0*)?\s*[a-zµμ]*\s*(\+-|±)/.test(text.trim())) {
    // In the plane of the standard, but for an uncertainty.
    const { value } = parseQuantity(text.trim().split(/\+-|±/)[1], rule);
    return { value: 0, standardUncertainty: value };
  }
  const { value, standardUncertainty } = parseQuantity(isNearer ? text.trim().slice(1) : text, rule);
  return {
    value: isNearer ? -value : value,
    ...(standardUncertainty !== undefined && { standardUncertainty }),
  };
}

function windowOf(text: string) {
  const parts = text.split(",");
  if (parts.length !== 2)
    throw wrong("--window", "a thickness and an index of refraction", "10mm+-0.1mm,1.52+-0.01", text);
  return { thickness: thicknessOf("--window", parts[0]), index: indexOf("--window", parts[1]) };
}

function mediumOf(text: string) {
  const [name, depth, ...rest] = text.split(",").map((part) => part.trim());
  if (rest.length > 0 || name === "")
    throw wrong("--medium", "air, water or an index, and a depth", "water,80mm", text);
  const index =
    name in REFRACTIVE_INDEXES
      ? { value: REFRACTIVE_INDEXES[name], standardUncertainty: 0 }
      : indexOf("--medium", name);
  return [name, depth === undefined ? null : { thickness: thicknessOf("--medium", depth), index }] as const;
}

function thicknessOf(option: string, text: string) {
  return parseQuantity(text, lengthRule(option, "a thickness", "10mm+-0.1mm"));
}

function indexOf(option: string, text: string): ParsedQuantity {
  const isWindow = option === "--window";
  const wanted = `${isWindow ? "" : "air, water or "}an index of refraction, at least 1`;
  const example = isWindow ? "10mm,1.52" : "1.36,80mm";
  const index = parseQuantity(text, { option, wanted, example, units: { "": 0 }, withUncertainty: true });
  if (index.value < 1) throw wrong(option, wanted, example, text);
  return index;
}
