import type { FinishedScale, LensFit, PlaneMap, Point } from "@frontpace/calibration";
import { programVersion } from "../files/program-version.js";
import { assertFinite } from "../schemas/assert-finite.js";
import type { ScaleFile, TakeWarning } from "../types.js";
import type { CalibrateOptions } from "./calibrate-stills.js";
import type { CalibrationStill } from "./read-stills.js";

/** What a calibration found. */
export interface ScaleParts extends FinishedScale {
  readonly method: ScaleFile["madeFrom"]["method"];
  readonly pointingPixels: number;
  readonly scales: readonly number[];
  readonly residualPixels?: number;
  readonly middlePixels?: Point;
  readonly planeMap?: PlaneMap;
  /** Of the plane map, px. */
  readonly points?: readonly Point[];
  /** Relative, of a plane seen square on. */
  readonly pointing?: number;
  readonly lensFit?: LensFit;
  readonly lensPictures?: number;
  readonly warnings: readonly TakeWarning[];
}

/** scale.json, keys in the order of the file.
 *  @throws TakeError `not-finite`: a fault of the program */
export function assembleScale(
  stills: readonly CalibrationStill[],
  { sensorOffset = [0, 0], binning = 1, sensor, medium = "air", depth }: CalibrateOptions,
  parts: ScaleParts,
): ScaleFile {
  const { planeMap, lensFit, monteCarlo } = parts;
  const scale: ScaleFile = {
    format: "frontpace-scale",
    version: 1,
    program: { name: "frontpace", version: programVersion },
    metresPerPixel: parts.metresPerPixel,
    metresPerPixelUncertainty: parts.missing.length > 0 ? null : parts.standardUncertainty,
    missing: [...parts.missing],
    budget: parts.budget.map(({ source, type, relativeStandardUncertainty, degreesOfFreedom }) => ({
      source,
      type,
      relativeStandardUncertainty,
      degreesOfFreedom,
    })),
    columns: stills[0].columns,
    rows: stills[0].rows,
    sensorOffset: [sensorOffset[0], sensorOffset[1]],
    binning,
    ...(sensor && { sensor: { columns: sensor.columns, rows: sensor.rows } }),
    medium,
    ...(planeMap && {
      planeMap: {
        matrix: copy(planeMap.matrix) as PlaneMapOfFile["matrix"],
        covariance: copy(planeMap.covariance),
        ...(planeMap.lensSlopes && { lensSlopes: copy(planeMap.lensSlopes) as [number, number][] }),
        squareOnUncertainty: parts.pointing ?? 0,
      },
    }),
    ...(lensFit && { lens: lensOfFile(lensFit) }),
    madeFrom: {
      method: parts.method,
      stills: stills.map(({ name }) => name),
      pointingPixels: parts.pointingPixels,
      scales: [...parts.scales],
      ...(parts.residualPixels !== undefined && { residualPixels: parts.residualPixels }),
      ...(parts.lensPictures !== undefined && { lensPictures: parts.lensPictures }),
      ...(parts.middlePixels && { middlePixels: [parts.middlePixels[0], parts.middlePixels[1]] }),
      ...(parts.points && { pointsBetweenPixels: rectangleAbout(parts.points) }),
      monteCarlo: {
        standardUncertainty: monteCarlo.standardUncertainty,
        trials: monteCarlo.trials,
        agrees: monteCarlo.agrees,
      },
    },
    assumed: assumptions(planeMap !== undefined, lensFit !== undefined, depth !== undefined),
    warnings: parts.warnings.map(({ code, message }) => ({ code, message })),
  };
  assertFinite(scale, "scale");
  return scale;
}

function rectangleAbout(points: readonly Point[]): [[number, number], [number, number]] {
  const along = (k: 0 | 1) => points.map((point) => point[k]);
  const [x, y] = [along(0), along(1)];
  return [
    [Math.min(...x), Math.min(...y)],
    [Math.max(...x), Math.max(...y)],
  ];
}

type PlaneMapOfFile = NonNullable<ScaleFile["planeMap"]>;

function lensOfFile({ lens }: LensFit): NonNullable<ScaleFile["lens"]> {
  const [[a, b], [c, d]] = lens.covariance;
  return {
    k1: lens.k1,
    k2: lens.k2,
    radiusPixels: lens.radiusPixels,
    centrePixels: [lens.centrePixels[0], lens.centrePixels[1]],
    covariance: [
      [a, b],
      [c, d],
    ],
    reachPixels: lens.reachPixels,
  };
}

function copy(matrix: readonly (readonly number[])[]): number[][] {
  return matrix.map((row) => [...row]);
}

function assumptions(isPlane: boolean, hasLens: boolean, hasDepth: boolean): string[] {
  return [
    "focus, zoom and distance of the camera are the same in the take",
    ...(isPlane
      ? ["camera and plane stand in the take as in the still, whose place on the sensor is known"]
      : ["the camera looks square onto the plane of the event: one scale for the whole picture"]),
    ...(hasLens
      ? ["the axis of the lens meets the middle of the sensor"]
      : ["the lens does not bend the picture"]),
    ...(hasDepth ? [] : ["the event runs in the plane of the standard, seen through the same windows"]),
  ];
}
