import { readFile } from "node:fs/promises";
import { basename, dirname, resolve } from "node:path";
import { takeFileOf } from "../files/read-take-file.js";
import { unreadableReason } from "../files/unreadable-reason.js";
import { TakeError } from "../take-error.js";
import type { MeasureOptions, TakeFile } from "../types.js";

/** Times of frames by their numbers, s, numbers and times increasing. */
export type Timestamps = ReadonlyMap<number, number>;

/** The table of times that the options name, relative to the working folder, or else take.json, relative to its own.
 *  @returns null where none is named
 *  @throws TakeError `file-unreadable`, `invalid-timestamps` */
export async function timestampsOf(
  options: MeasureOptions,
  file: TakeFile | null,
  take: string,
): Promise<Timestamps | null> {
  const named =
    options.timestamps ??
    (file?.timestamps === undefined ? null : resolve(dirname(await takeFileOf(take)), file.timestamps));
  if (named === null) return null;
  let text: string;
  try {
    text = await readFile(named, "utf8");
  } catch (error) {
    const message = `the timestamps ${named} cannot be read (${unreadableReason(error)}): name a readable file`;
    throw new TakeError("file-unreadable", message, { file: named }, { cause: error });
  }
  return parseTimestamps(text, basename(named));
}

/** A table `frame,time` with its header: frame numbers, and their times in seconds, both increasing; irregular ones are fine.
 *  @param name  of the file, for messages
 *  @throws TakeError `invalid-timestamps`, with the line */
export function parseTimestamps(text: string, name: string): Timestamps {
  const lines = text.replace(/^\uFEFF/, "").split(/\r?\n/);
  const wrong = (line: number, rule: string) =>
    new TakeError(
      "invalid-timestamps",
      `${name}, line ${line + 1}: ${rule}, got ${JSON.stringify(lines[line] ?? "")}`,
      {
        file: name,
        key: "timestamps",
      },
    );
  if (lines[0].replace(/\s/g, "").toLowerCase() !== "frame,time")
    throw wrong(0, "the header must be frame,time (frame numbers, seconds)");
  const times = new Map<number, number>();
  let [lastFrame, lastTime] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  lines.forEach((line, i) => {
    if (i === 0 || line.trim() === "") return;
    const cells = line.split(",").map((cell) => (cell.trim() === "" ? Number.NaN : Number(cell)));
    const [frame, time] = cells;
    if (cells.length !== 2 || !Number.isSafeInteger(frame) || !Number.isFinite(time))
      throw wrong(i, "a row must be a whole frame number and a time in seconds");
    if (!(frame > lastFrame)) throw wrong(i, `frame numbers must increase, ${lastFrame} stands before it`);
    if (!(time > lastTime)) throw wrong(i, `times must increase, ${lastTime} stands before it`);
    times.set(frame, time);
    [lastFrame, lastTime] = [frame, time];
  });
  if (times.size < 2) throw wrong(lines.length - 1, "there must be at least two rows");
  return times;
}

/** Mean rate of the frames of a table, Hz: as if none were missing between its first and last. */
export function meanRate(times: Timestamps): number {
  const frames = [...times.keys()];
  const [first, last] = [frames[0], frames[frames.length - 1]];
  return (last - first) / (times.get(last)! - times.get(first)!);
}

/** Time of a frame counted in frames of a rate, 0 that of the first in the table.
 *  @throws TakeError `invalid-timestamps` where the table lacks the frame */
export function timeFramesOf(times: Timestamps, rateHz: number): (frame: number) => number {
  return (frame) => {
    const time = times.get(frame);
    if (time === undefined) {
      const message = `the timestamps have no time for frame ${frame}: add it, or leave the frame out with the first and last frame used`;
      throw new TakeError("invalid-timestamps", message, { key: "timestamps", value: frame });
    }
    return timeFramesAt(times, rateHz, time);
  };
}

/** A time on the clock of the table, counted in frames of a rate. */
export function timeFramesAt(times: Timestamps, rateHz: number, timeSeconds: number): number {
  const [[firstFrame, firstTime]] = times;
  return firstFrame + (timeSeconds - firstTime) * rateHz;
}

/** Number of the frame whose time, so counted, is nearest. */
export function frameAt(times: Timestamps, rateHz: number, timeFrames: number): number {
  const of = timeFramesOf(times, rateHz);
  return [...times.keys()].reduce((best, frame) =>
    Math.abs(of(frame) - timeFrames) < Math.abs(of(best) - timeFrames) ? frame : best,
  );
}
