import { relative } from "node:path";
import { type CopyOptions, copyFrames, type MeasureContext, type TakeSearch } from "@frontpace/take";
import { parseCount, parseFrameCount } from "../arguments/option-parsers.js";
import { CliError } from "../terminal/cli-error.js";
import type { FindArguments } from "./find-command.js";
import { findOptions } from "./find-options.js";

/** Which event is copied and with how many frames beside it.
 *  @throws CliError `invalid-option` */
export function copyOptions({ copy, event, margin }: FindArguments): {
  readonly event: number;
  readonly marginFrames?: number;
} {
  if (copy === "") throw new CliError("invalid-option", "--copy must name a folder, got an empty text");
  for (const [option, text] of Object.entries({ "--event": event, "--margin": margin }))
    if (text !== undefined && copy === undefined)
      throw new CliError(
        "invalid-option",
        `${option} goes with --copy, which is not given: add --copy, or leave it out`,
      );
  return {
    event: event === undefined ? 1 : parseCount("--event", event, "2"),
    ...(margin !== undefined && { marginFrames: parseFrameCount("--margin", margin, "100") }),
  };
}

/** Copies the frames of the event that was asked for.
 *  @returns what was copied, for a person
 *  @throws CliError `invalid-option` where there is no such event; TakeError, the frame loader's error; `signal.reason` */
export async function copyEvent(
  take: string,
  args: FindArguments & { readonly copy: string },
  { events: { events } }: TakeSearch,
  context: MeasureContext,
): Promise<string> {
  const { event, marginFrames } = copyOptions(args);
  if (event > events.length)
    throw new CliError(
      "invalid-option",
      events.length === 1
        ? `--event must be 1: one event was found; got ${event}`
        : `--event must be one of the ${events.length} that were found, 1 to ${events.length}, got ${event}`,
    );
  const { firstFrame, lastFrame } = events[event - 1];
  const copied = await copyFrames(
    take,
    args.copy,
    { firstFrame, lastFrame, options: knownOf(args), ...(marginFrames !== undefined && { marginFrames }) },
    context,
  );
  const name = relative(process.cwd(), args.copy) || ".";
  return `${name} (event ${event}: ${copied.frames} frames, numbers ${copied.firstFrame} to ${copied.lastFrame})`;
}

/** What of the options is known of the take, and not of the search. */
function knownOf(args: FindArguments): NonNullable<CopyOptions["options"]> {
  const {
    shortestFrames: _shortest,
    thorough: _thorough,
    region: _region,
    firstFrame: _first,
    lastFrame: _last,
    ...known
  } = findOptions(args);
  return known;
}
