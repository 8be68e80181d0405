import type { FindOptions } from "@frontpace/take";
import {
  parseCount,
  parseFrames,
  parseTransfer,
  parseWidth,
  quantity,
  rateRule,
  wrong,
} from "./option-parsers.js";
import { parsePoints } from "./parse-points.js";

/** Options of `find` that say what is looked at and how, as text, by their names on the command line. */
export interface FindTexts {
  readonly rate?: string;
  readonly shortest?: string;
  readonly thorough?: boolean;
  readonly path?: string;
  readonly width?: string;
  readonly region?: string;
  readonly frames?: string;
  readonly every?: string;
  readonly transfer?: string;
  readonly skipBad?: boolean;
  readonly raw?: string;
}

/** Keys of the library's options that each option sets. */
export const findOptionKeys: Readonly<Record<keyof FindTexts, readonly (keyof FindOptions)[]>> = {
  rate: ["rateHz", "rateUncertaintyHz"],
  shortest: ["shortestFrames"],
  thorough: ["thorough"],
  path: ["path"],
  width: ["width"],
  region: ["region"],
  frames: ["firstFrame", "lastFrame"],
  every: ["frameStep"],
  transfer: ["transfer"],
  skipBad: ["skipBad"],
  raw: ["raw"],
};

/** Reads the options' texts.
 *  @throws CliError `invalid-option` */
export function findOptions(texts: FindTexts): FindOptions {
  const { rate, shortest, thorough, path, width, region, frames, every, transfer, skipBad, raw } = texts;
  return {
    ...(rate !== undefined && quantity(rate, rateRule, "rateHz", "rateUncertaintyHz")),
    ...(shortest !== undefined && { shortestFrames: parseCount("--shortest", shortest, "32") }),
    ...(thorough !== undefined && { thorough }),
    ...(path !== undefined && { path: parsePoints("--path", path) }),
    ...(width !== undefined && { width: parseWidth(width) }),
    ...(region !== undefined && { region: parseRegion(region) }),
    ...(frames !== undefined && parseFrames(frames)),
    ...(every !== undefined && { frameStep: parseCount("--every", every, "10") }),
    ...(transfer !== undefined && { transfer: parseTransfer(transfer) }),
    ...(skipBad !== undefined && { skipBad }),
    ...(raw !== undefined && { raw }),
  };
}

function parseRegion(text: string): NonNullable<FindOptions["region"]> {
  const corners = /^\s*(\d+)\s*,\s*(\d+)\s*:\s*(\d+)\s*,\s*(\d+)\s*$/.exec(text);
  if (!corners) throw wrong("--region", "two opposite corners x1,y1:x2,y2 in whole px", "0,20:1279,51", text);
  const [x1, y1, x2, y2] = corners.slice(1).map(Number);
  return [
    [x1, y1],
    [x2, y2],
  ];
}
