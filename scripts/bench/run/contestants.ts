import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { READING_ALONE } from "./bundle-reading.js";

/** A program to be timed: its command line, and what its output says. */
export interface Contestant {
  readonly command: string;
  readonly args: readonly string[];
  /** Speed in px a frame out of what it prints; absent where it measures none. */
  readonly speedOf?: (output: string) => number;
  /** Done before every run, in no one's time. */
  readonly prepare?: () => Promise<void>;
}

/** Band of rows about the path that every contestant is told of. */
export interface BandRows {
  readonly top: number;
  readonly rows: number;
}

const RATE_HZ = 500_000;
const METRES_PER_PIXEL = 0.3e-3;

export const PYTHON = "/usr/bin/python3";
const here = (file: string) => fileURLToPath(new URL(file, import.meta.url));
const COMMAND = here("../../../packages/cli/bin/frontpace.js");
const REPORTING = ["--import", here("report-used.mjs")];

/** The band of 40 rows in the middle of a picture, or the whole of a lower one. */
export function middleBand(pictureRows: number): BandRows {
  const rows = Math.min(40, pictureRows);
  return { top: (pictureRows - rows) / 2, rows };
}

/** In titles of rows whose command has no further options. A user who measures a take gets its pictures and its page, so their time counts,
 *  though what it is held against writes none. */
export const AS_RUN = "measure with its pictures and report.html, as a user runs it";

/** `frontpace measure` along the middle of a band, over the whole width of the picture.
 *  @param out  folder for its files
 *  @param more  further options */
export function measureCommand(
  take: string,
  { top, rows }: BandRows,
  columns: number,
  out: string,
  more: readonly string[] = [],
): Contestant {
  const row = top + (rows - 1) / 2;
  const path = `0,${row}:${columns - 1},${row}`;
  const known = ["--rate", String(RATE_HZ), "--scale", `${METRES_PER_PIXEL}m`];
  const band = ["--path", path, "--width", String(rows)];
  return {
    command: process.execPath,
    args: [...REPORTING, COMMAND, "measure", take, ...known, ...band, "--out", out, "--json", ...more],
    speedOf: (output) => JSON.parse(output).speed.value / (RATE_HZ * METRES_PER_PIXEL),
  };
}

/** `frontpace find` in samples without a header.
 *  @param shortest  frames of the shortest event looked for */
export function findCommand(file: string, layout: string, shortest: number, out: string): Contestant {
  const options = ["--raw", layout, "--shortest", String(shortest), "--out", out, "--json"];
  const args = [...REPORTING, COMMAND, "find", file, ...options];
  return { command: process.execPath, args };
}

/** `frontpace batch` on takes of one speed, into a folder that is not there: nothing is as before.
 *  @param takes  how many there are; where one was not measured there is no speed */
export function batchCommand(
  folder: string,
  out: string,
  workers: number,
  takes: number,
  more: readonly string[] = [],
): Contestant {
  const options = ["--rate", "1", "--scale", "1m", "--workers", String(workers), "--out", out, "--json"];
  const speedsOf = (output: string) =>
    (JSON.parse(output).takes as { speed: { value: number } | null }[]).map(({ speed }) => speed?.value);
  return {
    command: process.execPath,
    args: [...REPORTING, COMMAND, "batch", folder, ...options, ...more],
    speedOf: (output) => oneSpeed(speedsOf(output), takes),
    prepare: () => rm(out, { recursive: true, force: true }),
  };
}

/** The same takes measured in one process. */
export function oneAfterAnother(folder: string, out: string, takes: number): Contestant {
  return {
    command: process.execPath,
    args: [here("measure-takes.mjs"), folder, out],
    speedOf: (output) => oneSpeed(JSON.parse(output), takes),
    prepare: () => rm(out, { recursive: true, force: true }),
  };
}

/** Speed of takes that show the same: NaN where one is missing or has another. */
function oneSpeed(speeds: readonly (number | null | undefined)[], takes: number): number {
  const [first] = speeds;
  return speeds.length === takes && speeds.every((speed) => speed === first)
    ? (first ?? Number.NaN)
    : Number.NaN;
}

/** The arrival map of a folder of stills. */
export function arrivalMapAlone(folder: string): Contestant {
  return {
    command: process.execPath,
    args: [...REPORTING, here("map-stills.mjs"), folder],
    speedOf: Number,
  };
}

/** The stills decoded, the band alone, and nothing else done: with sharp, or with the project's own reader of grey PNG. */
export function decodeAlone(
  folder: string,
  { top, rows }: BandRows,
  by: "sharp" | "frame-loader" = "sharp",
): Contestant {
  const script = here(by === "sharp" ? "decode-stills.mjs" : "decode-by-loader.mjs");
  return { command: process.execPath, args: [script, folder, `${top}:${rows}`] };
}

/** What the command cannot do without: its start, its modules, reading and averaging the band.
 *  @param more  options of read-alone.mjs */
export function readingAlone(
  take: string,
  { top, rows }: BandRows,
  more: readonly string[] = [],
): Contestant {
  return { command: process.execPath, args: [READING_ALONE, take, `${top}:${rows}`, ...more] };
}

/** The script of general-purpose libraries. */
export function generalPurpose(folder: string, { top, rows }: BandRows): Contestant {
  return {
    command: PYTHON,
    args: [here("measure-stills.py"), folder, String(top), String(rows)],
    speedOf: (output) => JSON.parse(output).slope,
  };
}
