import { localSpeed, median } from "@frontpace/fit";
import type { Settings } from "../settings/settle.js";
import type { MeasuredResult, TrackRow } from "../types.js";
import type { Motion } from "./motion-of-track.js";

/** Fewer positions show no course of the speed beside its mean. */
const FEWEST = 12;
/** More are joined to means of neighbours first: the cost grows with the square of their number. */
const MOST = 120;

/** Positions more than so many times as unsure as the middle one, as where the front enters or leaves, weigh little in the fit, but would bend a
 *  course that weighs all alike. */
const UNSURE = 2;

/** The speed along the way without a model, through the used positions.
 *  @param rows  of track.csv
 *  @returns null where they are too few */
export function speedAlong(
  rows: readonly TrackRow[],
  motion: Motion,
  {
    rateHz: { value: rateHz },
    metresPerPixel: { value: metresPerPixel },
  }: Pick<Settings, "rateHz" | "metresPerPixel">,
): NonNullable<MeasuredResult["speedAlong"]> | null {
  const used = sureRows(rows.filter((row) => row.used));
  if (used.length < FEWEST) return null;
  const sense = Math.sign(motion.track.line.slopePixelsPerFrame);
  const size = Math.ceil(used.length / MOST);
  const groups = Array.from({ length: Math.floor(used.length / size) }, (_, k) =>
    used.slice(k * size, (k + 1) * size),
  );
  const times = groups.map((group) =>
    mean(group.map((row) => motion.readAt(row.timeSeconds * rateHz, row.positionPixels) / rateHz)),
  );
  if (times.some((time, k) => k > 0 && !(time > times[k - 1]))) return null;
  const uncertainties = groups.map((group) => uncertaintyOfMean(group, metresPerPixel));
  const { speeds, halfWidths } = localSpeed(
    times,
    groups.map((group) => sense * mean(group.map(({ positionMetres }) => positionMetres))),
    uncertainties.every((u) => u > 0) ? { standardUncertainty: uncertainties } : {},
  );
  return { timeSeconds: times, speed: [...speeds], halfWidth: [...halfWidths] };
}

function sureRows(rows: readonly TrackRow[]): readonly TrackRow[] {
  if (rows.length === 0) return rows;
  const limit = UNSURE * median(rows.map(({ standardUncertaintyPixels }) => standardUncertaintyPixels));
  return rows.filter(({ standardUncertaintyPixels }) => standardUncertaintyPixels <= limit);
}

/** Of the readings alone, m. */
function uncertaintyOfMean(rows: readonly TrackRow[], metresPerPixel: number): number {
  const squares = rows.reduce((sum, row) => sum + row.standardUncertaintyPixels ** 2, 0);
  return (Math.sqrt(squares) / rows.length) * metresPerPixel;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
