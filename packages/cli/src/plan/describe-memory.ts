import { percentText, wholeNumber, withUnit } from "@frontpace/report/words";
import type { PlanReport } from "@frontpace/take";
import { alignColumns } from "../terminal/align-columns.js";
import { screenTime } from "../terminal/screen-time.js";

/** What the memory holds in each mode, side by side; nothing where its size is not known. */
export function describeMemory({ modes, request }: PlanReport): string[] {
  if (modes.every(({ recordFrames }) => recordFrames === null)) return [];
  const { playbackHz } = request;
  // Without a rate of playback there is nothing to say of the screen.
  const onScreen = (text: string) => (playbackHz === undefined ? [] : [text]);
  const head = ["", "px", "memory", "frames", ...onScreen(`at ${playbackHz} frames/s`)];
  return alignColumns([
    [...head, "event fills", "kept from before the trigger"],
    ...modes.map(({ columns, rows, ...mode }) => [
      "",
      `${columns} x ${rows}`,
      told(mode.recordSeconds, (seconds) => withUnit(seconds, "s")),
      told(mode.recordFrames, wholeNumber),
      ...onScreen(told(mode.playbackSeconds, screenTime)),
      told(mode.eventShare, percentText),
      told(mode.triggerShare, percentText),
    ]),
  ]);
}

function told(value: number | null, text: (known: number) => string): string {
  return value === null ? "-" : text(value);
}
