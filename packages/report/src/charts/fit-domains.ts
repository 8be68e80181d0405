import { quantile } from "d3-array";
import type { FitPicture } from "./fit-picture.js";

export type Interval = readonly [number, number];

/** What the axes of the fit picture span. */
export interface FitDomains {
  readonly frames: Interval;
  readonly positionsPixels: Interval;
  readonly residualsPixels: Interval;
}

/** Residuals below this are rounding; a scale that showed them would suggest a structure there is not. */
const SMALLEST_RESIDUAL_SCALE_PIXELS = 1e-4;

/** A few bars longer than this times nearly all others are cut off rather than flatten the rest. */
const LONGEST_BAR = 2;

/** Rejected points may widen an axis up to this factor; what lies farther out is drawn at the edge. */
const REJECTED_ROOM = 1.5;

/** Chooses the axes so that the used points and the line fill the panels, however far the rejected ones lie out. */
export function chooseFitDomains({ points, line, curve }: FitPicture): FitDomains {
  const used = points.some((point) => point.used) ? points.filter((point) => point.used) : points;
  const rejected = points.filter((point) => !point.used);
  const lineAt = (frame: number) => line.interceptPixels + line.slopePixelsPerFrame * frame;

  const frames = extent([...points.map((point) => point.frame), line.firstFrame, line.lastFrame]);
  const ends = curve?.map(({ positionPixels }) => positionPixels) ?? [
    lineAt(line.firstFrame),
    lineAt(line.lastFrame),
  ];
  const core = padded(extent([...used.map((point) => point.positionPixels), ...ends]), 0.08);
  const room = ((REJECTED_ROOM - 1) * (core[1] - core[0])) / 2;
  const wide = extent([...core, ...rejected.map((point) => point.positionPixels)]);

  const size = used.map((point) => Math.abs(point.residualPixels)).filter(Number.isFinite);
  const reach = used
    .map((point) => Math.abs(point.residualPixels) + point.standardUncertaintyPixels)
    .filter(Number.isFinite);
  const bars = Math.min(quantile(reach, 1) ?? 0, LONGEST_BAR * (quantile(reach, 0.95) ?? 0));
  const half = 1.12 * Math.max(SMALLEST_RESIDUAL_SCALE_PIXELS, quantile(size, 1) ?? 0, bars);
  const farthest = quantile(
    rejected.map((point) => Math.abs(point.residualPixels)).filter(Number.isFinite),
    1,
  );
  const residual = Math.max(half, Math.min(half * REJECTED_ROOM, 1.12 * (farthest ?? 0)));
  return {
    frames: frames[0] === frames[1] ? [frames[0] - 1, frames[1] + 1] : padded(frames, 0.03),
    positionsPixels: [Math.max(wide[0], core[0] - room), Math.min(wide[1], core[1] + room)],
    residualsPixels: [-residual, residual],
  };
}

function extent(values: readonly number[]): Interval {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return [low, high];
}

/** The interval widened at both ends by a share of it; one of no length gets a pixel on either side. */
function padded([low, high]: Interval, share: number): Interval {
  const room = high > low ? share * (high - low) : 1;
  return [low - room, high + room];
}
