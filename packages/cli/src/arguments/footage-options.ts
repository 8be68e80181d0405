import type { Command } from "commander";
import { parseCount, parseFrames, parseTransfer, parseWidth, quantity, rateRule } from "./option-parsers.js";
import { parsePoints } from "./parse-points.js";
import { single } from "./single-option.js";

/** Options of every command that reads a take, as text, by their names on the command line. */
export interface FootageTexts {
  readonly rate?: string;
  readonly path?: string;
  readonly width?: string;
  readonly frames?: string;
  readonly every?: string;
  readonly transfer?: string;
  readonly skipBad?: boolean;
  readonly raw?: string;
}

/** Keys of the library's options that each sets. */
export const footageOptionKeys = {
  rate: ["rateHz", "rateUncertaintyHz"],
  path: ["path"],
  width: ["width"],
  frames: ["firstFrame", "lastFrame"],
  every: ["frameStep"],
  transfer: ["transfer"],
  skipBad: ["skipBad"],
  raw: ["raw"],
} as const satisfies Record<keyof FootageTexts, readonly string[]>;

/** Reads the options' texts.
 *  @throws CliError `invalid-option` */
export function footageOptions(texts: FootageTexts) {
  const { rate, path, width, frames, every, transfer, skipBad, raw } = texts;
  return {
    ...(rate !== undefined && quantity(rate, rateRule, "rateHz", "rateUncertaintyHz")),
    ...(path !== undefined && { path: parsePoints("--path", path) }),
    ...(width !== undefined && { width: parseWidth(width) }),
    ...(frames !== undefined && parseFrames(frames)),
    ...(every !== undefined && { frameStep: parseCount("--every", every, "10") }),
    ...(transfer !== undefined && { transfer: parseTransfer(transfer) }),
    ...(skipBad !== undefined && { skipBad }),
    ...(raw !== undefined && { raw }),
  };
}

/** The options that say how the frames of a take are read. */
export function addFootageOptions(command: Command, frames: string): Command {
  return command
    .addOption(single("--frames <a..b>", `first and last frame number ${frames}, for example -12..145`))
    .addOption(single("--every <n>", "only every n-th recorded frame was exported"))
    .addOption(
      single(
        "--transfer <curve>",
        "linear, srgb or bt709: the curve the samples went through (default: linear)",
        ["linear", "srgb", "bt709"],
      ),
    )
    .addOption(
      single(
        "--raw <layout>",
        "COLUMNSxROWS:u8|u16le|u16be|f32le[@offset][+gap]: samples without a header, offset and gap in bytes",
      ),
    )
    .option("--skip-bad", "leave damaged stills out as gaps in time instead of stopping");
}
