import type { DryCheckOptions } from "@frontpace/take";
import { type FootageTexts, footageOptionKeys, footageOptions } from "../arguments/footage-options.js";
import { quantity } from "../arguments/option-parsers.js";
import { parseCorners } from "../arguments/parse-points.js";
import { parseQuantity, type QuantityRule } from "../arguments/parse-quantity.js";
import { exposureRule } from "../arguments/units.js";

/** Options of `check` that say what is looked at and what it is held against, as text, by their names on the command line. */
export interface CheckTexts extends FootageTexts {
  readonly exposure?: string;
  readonly clock?: string;
  readonly lamp?: string;
}

/** Keys of the library's options that each option sets. */
export const checkOptionKeys: Readonly<Record<keyof CheckTexts, readonly (keyof DryCheckOptions)[]>> = {
  ...footageOptionKeys,
  exposure: ["exposureSeconds"],
  clock: ["clockHz", "clockUncertaintyHz"],
  lamp: ["lamp"],
};

const clockRule: QuantityRule = {
  option: "--clock",
  wanted: "the frequency of a lamp in the picture, a number > 0 with its unit (Hz, kHz, MHz)",
  example: "1kHz+-0.001%",
  units: { Hz: 0, kHz: 3, MHz: 6 },
  withUncertainty: true,
};

/** Reads the options' texts.
 *  @throws CliError `invalid-option` */
export function checkOptions(texts: CheckTexts): DryCheckOptions {
  const { exposure, clock, lamp } = texts;
  return {
    ...footageOptions(texts),
    ...(exposure !== undefined && { exposureSeconds: parseQuantity(exposure, exposureRule).value }),
    ...(clock !== undefined && quantity(clock, clockRule, "clockHz", "clockUncertaintyHz")),
    ...(lamp !== undefined && { lamp: parseCorners("--lamp", lamp) }),
  };
}
