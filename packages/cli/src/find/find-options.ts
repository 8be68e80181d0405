import type { FindOptions } from "@frontpace/take";
import { type FootageTexts, footageOptionKeys, footageOptions } from "../arguments/footage-options.js";
import { parseCount } from "../arguments/option-parsers.js";
import { parseCorners } from "../arguments/parse-points.js";

/** Options of `find` that say what is looked at and how, as text, by their names on the command line. */
export interface FindTexts extends FootageTexts {
  readonly shortest?: string;
  readonly thorough?: boolean;
  readonly region?: string;
}

/** Keys of the library's options that each option sets. */
export const findOptionKeys: Readonly<Record<keyof FindTexts, readonly (keyof FindOptions)[]>> = {
  ...footageOptionKeys,
  shortest: ["shortestFrames"],
  thorough: ["thorough"],
  region: ["region"],
};

/** Reads the options' texts.
 *  @throws CliError `invalid-option` */
export function findOptions(texts: FindTexts): FindOptions {
  const { shortest, thorough, region } = texts;
  return {
    ...footageOptions(texts),
    ...(shortest !== undefined && { shortestFrames: parseCount("--shortest", shortest, "32") }),
    ...(thorough !== undefined && { thorough }),
    ...(region !== undefined && { region: parseCorners("--region", region) }),
  };
}
