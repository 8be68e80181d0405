import type { FindResult } from "@frontpace/finder";
import type { SearchSettings } from "../settings/settle-search.js";
import type { TakeFrames, TakeSearch } from "../types.js";
import { nothingFound } from "./nothing-found.js";

/** What the finder found, with what is known of the take; keys in the order of events.json.
 *  @param frameStep  every how many-th recorded frame is there; null: not declared */
export function takeSearch(
  found: FindResult,
  frames: TakeFrames,
  settings: SearchSettings,
  frameStep: number | null,
): TakeSearch {
  const { name, rows, columns, bitDepth, numbers, warnings = [] } = frames;
  return {
    events: {
      format: "frontpace-events",
      version: 1,
      frames: found.frames,
      framesRead: found.framesRead,
      events: found.events.map(({ firstFrame, lastFrame, kind, strength, certainty }) => ({
        firstFrame,
        lastFrame,
        kind,
        strength,
        certainty,
      })),
      shortestFrames: found.shortestFrames,
      passingSought: found.passingSought,
      weakestSeen: found.weakestSeen && { ...found.weakestSeen },
      lightChanges: found.lightChanges.map(({ firstFrame, lastFrame, factor }) => ({
        firstFrame,
        lastFrame,
        factor,
      })),
      ...(found.written.length > 0 && {
        written: found.written.map(({ row, column, rows, columns }) => ({ row, column, rows, columns })),
      }),
      ...(found.events.length === 0 && { notFound: nothingFound(found) }),
      warnings: warnings.map(({ code, message }) => ({ code, message })),
    },
    take: {
      name,
      rows,
      columns,
      bitDepth,
      firstFrame: settings.firstFrame ?? numbers[0],
      lastFrame: settings.lastFrame ?? numbers[numbers.length - 1],
      frameStep,
      rateHz: settings.rateHz,
    },
    activity: found.activity,
  };
}
