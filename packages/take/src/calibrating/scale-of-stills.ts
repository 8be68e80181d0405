import {
  type Correspondence,
  fitLens,
  type LensFit,
  type MeasuredLength,
  type Point,
  scaleFromLengths,
  scaleFromPlane,
} from "@frontpace/calibration";
import { checkSensor } from "../settings/check-sensor.js";
import { TakeError } from "../take-error.js";
import { assembleScale, type ScaleParts } from "./assemble-scale.js";
import type { CalibrateOptions, Calibration, Standard } from "./calibrate-stills.js";
import { checkDistinct, checkInside } from "./check-stills.js";
import { gridPoints } from "./grid-points.js";
import type { CalibrationStill } from "./read-stills.js";
import { scaleWarnings } from "./scale-warnings.js";

/** Half a pixel: what marking a point on a screen is good to (common practice, no source). */
const BY_HAND_PIXELS = 0.5;

/** The scale of stills that are read.
 *  @throws TakeError, CalibrationError; `signal.reason` when stopped */
export function scaleOfStills(
  stills: readonly CalibrationStill[],
  options: CalibrateOptions,
  signal: AbortSignal | undefined,
): Calibration {
  const { standard, sensorOffset = [0, 0], binning = 1, sensor } = options;
  const [{ columns, rows }] = stills;
  checkSensor({ columns, rows, sensorOffset, binning }, sensor, "stills");
  if (standard.kind !== "grid" && stills.length > 1)
    throw new TakeError(
      "invalid-value",
      `points are marked in one still, got ${stills.length}: calibrate each for itself, or use a printed grid`,
      { key: "stills", value: stills.length },
    );
  checkDistinct(stills);
  if (standard.kind !== "grid") checkInside(stills[0], markedPoints(standard));
  if (standard.kind === "lengths") return ofLengths(stills[0], standard.lengths, options);
  const seen =
    standard.kind === "points"
      ? [{ points: standard.points, uncertaintyPixels: options.pointingPixels ?? BY_HAND_PIXELS }]
      : stills.map((still) => gridPoints(still, standard.pattern, signal));
  return ofPlane(stills, standard, seen, options);
}

function markedPoints(standard: Exclude<Standard, { kind: "grid" }>): Point[] {
  return standard.kind === "lengths"
    ? standard.lengths.flatMap(({ between }) => between)
    : standard.points.map(({ pixel }) => pixel);
}

function ofLengths(
  still: CalibrationStill,
  lengths: readonly MeasuredLength[],
  options: CalibrateOptions,
): Calibration {
  if (options.lens)
    throw new TakeError("invalid-value", "two points do not tell the lens: film a printed grid", {
      key: "lens",
    });
  const pointingPixels = options.pointingPixels ?? BY_HAND_PIXELS;
  const scale = scaleFromLengths(lengths, pointingPixels, options.depth ?? {});
  const parts: ScaleParts = {
    ...scale,
    method: "lengths",
    pointingPixels,
    scales: scale.each.map(({ metresPerPixel }) => metresPerPixel),
    warnings: scaleWarnings({
      disagreeing: scale.disagree ? scale.each : null,
      isPointingAssumed: options.pointingPixels === undefined,
      monteCarlo: scale.monteCarlo,
    }),
  };
  const points = lengths.flatMap(({ between }) => between);
  return { scale: assembleScale([still], options, parts), stills: [{ ...still, points }] };
}

interface SeenPoints {
  readonly points: readonly Correspondence[];
  readonly uncertaintyPixels: number;
}

function ofPlane(
  stills: readonly CalibrationStill[],
  standard: Exclude<Standard, { kind: "lengths" }>,
  seen: readonly SeenPoints[],
  options: CalibrateOptions,
): Calibration {
  const lensFit = options.lens ? lensOf(stills[0], seen, options) : null;
  const { relativeStandardUncertainty } = standard;
  const common = {
    ...(relativeStandardUncertainty !== undefined && { relativeStandardUncertainty }),
    ...(lensFit && { lens: lensFit.lens }),
    ...(options.depth && { depth: options.depth }),
  };
  const each = seen.map(({ points, uncertaintyPixels }) =>
    scaleFromPlane(points, { ...common, pointingPixels: uncertaintyPixels }),
  );
  const scales = each.map(({ metresPerPixel }) => metresPerPixel);
  const [first] = seen;
  const scale =
    lensFit || seen.length === 1
      ? each[0]
      : scaleFromPlane(first.points, { ...common, pointingPixels: first.uncertaintyPixels, repeats: scales });
  const parts: ScaleParts = {
    ...scale,
    method: standard.kind === "points" ? "points" : standard.pattern.kind,
    scales,
    residualPixels: scale.rmsPixels,
    points: first.points.map(({ pixel }) => pixel),
    ...(lensFit && { lensFit, lensPictures: seen.length }),
    warnings: scaleWarnings({
      isPointingAssumed: standard.kind === "points" && options.pointingPixels === undefined,
      monteCarlo: scale.monteCarlo,
      ...(standard.kind === "grid" && {
        residual: {
          rmsPixels: scale.rmsPixels,
          expectedPixels: Math.SQRT2 * first.uncertaintyPixels,
          hasLens: lensFit !== null,
        },
      }),
      ...(lensFit && { lens: { fit: lensFit, columns: stills[0].columns, rows: stills[0].rows } }),
    }),
  };
  return {
    scale: assembleScale(stills, options, parts),
    stills: stills.map((still, k) => ({ ...still, points: seen[k].points.map(({ pixel }) => pixel) })),
  };
}

/** The axis of the lens is taken to be the middle of the sensor. */
function lensOf(still: CalibrationStill, seen: readonly SeenPoints[], options: CalibrateOptions): LensFit {
  const { columns, rows } = still;
  const { sensorOffset: [x, y] = [0, 0], binning = 1, sensor } = options;
  if (!sensor && (x !== 0 || y !== 0))
    throw new TakeError(
      "invalid-value",
      "the lens looks at the middle of the sensor, and the stills show a part of it: state the size of the sensor",
      { key: "sensor" },
    );
  const centre: Point = [
    ((sensor?.columns ?? columns * binning) / 2 - x) / binning - 0.5,
    ((sensor?.rows ?? rows * binning) / 2 - y) / binning - 0.5,
  ];
  return fitLens(
    seen.map(({ points }) => points),
    centre,
    Math.hypot(columns, rows) / 2,
  );
}
