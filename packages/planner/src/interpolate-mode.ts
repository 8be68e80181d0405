import { fitRowTime } from "./fit-row-time.js";
import type { RecordingMode } from "./mode-types.js";
import { PlannerError } from "./planner-error.js";

/** Entries on either side that the row-time model is fitted to, at most. */
const NEIGHBOURS = 2;

/** The modes of one height: listed where they are listed, otherwise one for each width (and bits) that has lower and higher
 *  pictures in the list, its rate by the row-time model of the entries about it. Never extrapolated.
 *  @param rows  px, a whole number
 *  @returns at least one
 *  @throws PlannerError `rows-outside` where no width has entries on both sides */
export function modesOfHeight(modes: readonly RecordingMode[], rows: number): RecordingMode[] {
  const found = seriesOf(modes).flatMap((series) => {
    const listed = series.find((mode) => mode.rows === rows);
    if (listed) return [listed];
    const below = series.filter((mode) => mode.rows < rows).slice(-NEIGHBOURS);
    const above = series.filter((mode) => mode.rows > rows).slice(0, NEIGHBOURS);
    if (below.length === 0 || above.length === 0) return [];
    return [interpolated([...below, ...above], rows)];
  });
  if (found.length > 0) return found;
  const heights = modes.map((mode) => mode.rows);
  throw new PlannerError(
    "rows-outside",
    `${rows} rows lie outside the listed heights, ${Math.min(...heights)} to ${Math.max(...heights)} px, or between entries of different widths: rates are interpolated between entries of one width, never extrapolated. Ask for a height in between, or add the mode to the list`,
    { key: "rows", value: rows },
  );
}

/** Modes of one width and one number of bits, by height. */
export function seriesOf(modes: readonly RecordingMode[]): RecordingMode[][] {
  const series = new Map<string, RecordingMode[]>();
  for (const mode of modes) {
    const key = `${mode.columns}:${mode.bits}`;
    series.set(key, [...(series.get(key) ?? []), mode]);
  }
  return [...series.values()].map((of) => of.toSorted((a, b) => a.rows - b.rows));
}

function interpolated(neighbours: readonly RecordingMode[], rows: number): RecordingMode {
  const model = fitRowTime(
    neighbours.map((mode) => mode.rows),
    neighbours.map((mode) => mode.rateHz),
  );
  const exposures = neighbours.map((mode) => mode.minExposureSeconds);
  return {
    columns: neighbours[0].columns,
    rows,
    rateHz: 1 / (rows * model.rowTimeSeconds + model.overheadSeconds),
    bits: neighbours[0].bits,
    // What every neighbour can do.
    minExposureSeconds: exposures.some((value) => value === null)
      ? null
      : Math.max(...(exposures as number[])),
    interpolation: model,
  };
}
