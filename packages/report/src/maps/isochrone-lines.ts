import { quantile, ticks } from "d3-array";
import { format, precisionFixed } from "d3-format";
import { chooseUnit } from "../drawing/choose-unit.js";
import { timeOrigin } from "../drawing/time-axis.js";
import type { CellValues } from "./cell-values.js";
import { isolines } from "./isolines.js";
import { smoothArrivals } from "./smooth-arrivals.js";

type Point = readonly [x: number, y: number];

/** The lines of one time of arrival. */
export interface Isochrone {
  /** Time counted in frame numbers. */
  readonly frame: number;
  /** That time with its unit. */
  readonly label: string;
  /** px of the picture, whole numbers are pixel centres; the longest first. */
  readonly lines: readonly (readonly Point[])[];
}

/** Isochrones of a map, and how their times are told. */
export interface Isochrones {
  readonly isochrones: readonly Isochrone[];
  /** From one to the next, with its unit; null where there are fewer than two. */
  readonly step: string | null;
  /** Number of the frame from which time is counted. */
  readonly origin: number;
}

/** About so many lines are drawn. */
const WANTED_LINES = 9;
/** Shares of the arrivals that lie outside the lines: a few odd cells do not set the times. */
const [FIRST_SHARE, LAST_SHARE] = [0.005, 0.995];
/** Lines of fewer cells are specks of single cells. */
const SHORTEST = 3;

/** Lines of equal time of arrival at evenly spaced round times, drawn where cells have an arrival and nowhere else.
 *  @param cells  arrival, counted in frame numbers
 *  @param standardUncertainty  of the arrivals, frames, shape as theirs: the less sure, the smoother they are drawn (`smoothArrivals`)
 *  @param rateHz  frames per second, > 0 */
export function isochroneLines(
  cells: CellValues,
  standardUncertainty: Float64Array,
  rateHz: number,
): Isochrones {
  const { shape, cell } = cells;
  const sorted = cells.values.filter((time) => !Number.isNaN(time)).sort();
  if (sorted.length === 0) return { isochrones: [], step: null, origin: 0 };
  const first = quantile(sorted, FIRST_SHARE)!;
  const last = quantile(sorted, LAST_SHARE)!;
  const origin = last > first ? timeOrigin(first, last) : 0;
  const unit = chooseUnit((last - first) / rateHz, "s");
  const shown = (frame: number) => (frame - origin) / rateHz / unit.size;
  const times = last > first ? ticks(shown(first), shown(last), WANTED_LINES) : [shown(first)];
  const step = times.length > 1 ? times[1] - times[0] : null;
  const number = format(`.${step === null ? 3 : precisionFixed(step)}f`);
  const smooth =
    step === null ? cells.values : smoothArrivals(cells, standardUncertainty, step * unit.size * rateHz);
  const place = (at: number) => (at + 0.5) * cell - 0.5;
  const isochrones = times.map((time) => {
    const frame = origin + time * unit.size * rateHz;
    const lines = isolines(smooth, shape, frame)
      .filter((line) => lengthOf(line) >= SHORTEST)
      .sort((one, other) => lengthOf(other) - lengthOf(one))
      .map((line) => line.map(([x, y]) => [place(x), place(y)] as const));
    return { frame, label: `${number(time)} ${unit.name}`, lines };
  });
  return { isochrones, step: step === null ? null : `${number(step)} ${unit.name}`, origin };
}

export function lengthOf(line: readonly Point[]): number {
  return line.reduce(
    (sum, [x, y], k) => (k === 0 ? 0 : sum + Math.hypot(x - line[k - 1][0], y - line[k - 1][1])),
    0,
  );
}
