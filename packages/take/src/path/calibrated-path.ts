import {
  betweenWindows,
  CalibrationError,
  type Lens,
  lengthsAlong,
  lengthUncertainty,
  orientedMap,
  type PathLengths,
  type PlaneMap,
  type PlaneView,
  type Point,
  planePoint,
} from "@frontpace/calibration";
import type { Quantity, QuantityPart } from "@frontpace/fit";
import type { CalibrationInUse } from "../settings/settle.js";
import { TakeError } from "../take-error.js";
import type { ScaleFile, TakeWarning } from "../types.js";
import { pathWarnings } from "./path-warnings.js";
import type { PlaneSides } from "./tilt-in-plane.js";

/** Relative standard uncertainty of an effect on lengths along the path, degrees of freedom null: infinite. null where it
 *  was not evaluated. */
export type LengthEffect =
  | (Pick<ScaleFile["budget"][number], "type" | "degreesOfFreedom"> & {
      readonly relative: number;
    })
  | null;

/** What a calibration says of lengths along a path of a take. */
export interface CalibratedPath {
  /** Mean along the path; with the uncertainty of everything that is known, and its parts without the effects. */
  readonly metresPerPixel: Quantity;
  readonly effects: {
    readonly planes: LengthEffect;
    readonly obliquity: LengthEffect;
    readonly lens: LengthEffect;
    readonly refraction: LengthEffect;
  };
  /** With a plane map: metres along the path by px of the take, and back. */
  readonly lengths: Pick<PathLengths, "metresAt" | "pixelsAt"> | null;
  /** With a plane map: what a pixel is in the plane, in the middle of the path. */
  readonly sides: PlaneSides | null;
  readonly record: CalibrationRecord;
  readonly warnings: readonly TakeWarning[];
}

/** What stands in the result. */
export interface CalibrationRecord {
  readonly method: ScaleFile["madeFrom"]["method"];
  readonly planeMap: boolean;
  readonly lens: boolean;
  readonly pathMetres: number;
  readonly leastMetresPerPixel: number;
  readonly greatestMetresPerPixel: number;
  /** By how much the single scale of the calibration would be wrong on the whole path, relative. */
  readonly singleScaleError: number;
  readonly assumed: string[];
}

const PARTS = ["length standard", "pointing", "repeat", "beyond linear propagation"] as const;

/** The scale of a calibration along a path of the take.
 *  @param path  px of the take
 *  @throws TakeError `calibration-not-here` where the plane is not seen along the path */
export function calibratedPath(calibration: CalibrationInUse, path: readonly [Point, Point]): CalibratedPath {
  const { scale, binning } = calibration;
  const here = {
    sensorOffset: calibration.sensorOffset ?? scale.sensorOffset,
    binning: binning ?? scale.binning,
  };
  const moved: [Point, Point] = [betweenWindows(here, scale, path[0]), betweenWindows(here, scale, path[1])];
  const grow = here.binning / scale.binning;
  const along = scale.planeMap ? seenPlane(scale, scale.planeMap, moved) : null;
  const single = scale.metresPerPixel * grow;
  const mean = along ? along.lengths.scale.mean * grow : single;
  const pixels = Math.hypot(path[1][0] - path[0][0], path[1][1] - path[0][1]);
  const parts = partsOf(scale, along?.uncertainty.pointing ?? null);
  const effects = effectsOf(scale, along);
  const all = [
    ...parts.map(({ relativeStandardUncertainty }) => relativeStandardUncertainty),
    ...Object.values(effects).map((effect) => effect?.relative ?? 0),
  ];
  return {
    metresPerPixel: {
      value: mean,
      parts,
      ...(scale.missing.length === 0 && { standardUncertainty: mean * Math.hypot(...all) }),
    },
    effects,
    lengths: along && {
      metresAt: (at) => along.lengths.metresAt(at * grow),
      pixelsAt: (metres) => along.lengths.pixelsAt(metres) / grow,
    },
    sides: along?.sides ?? null,
    record: {
      method: scale.madeFrom.method,
      planeMap: along !== null,
      lens: scale.lens !== undefined,
      pathMetres: mean * pixels,
      leastMetresPerPixel: along ? along.lengths.scale.least * grow : single,
      greatestMetresPerPixel: along ? along.lengths.scale.greatest * grow : single,
      singleScaleError: single / mean - 1,
      assumed: [...scale.assumed, ...(binning === null ? ["the take is binned as the still was"] : [])],
    },
    warnings: pathWarnings(scale, moved),
  };
}

function seenPlane(scale: ScaleFile, planeMap: NonNullable<ScaleFile["planeMap"]>, path: [Point, Point]) {
  const lens: Lens | null = scale.lens ?? null;
  const { middlePixels } = scale.madeFrom;
  try {
    const map: PlaneMap = middlePixels ? orientedMap(planeMap, lens, middlePixels) : planeMap;
    const view: PlaneView = { matrix: map.matrix, ...(lens && { lens }) };
    const lengths = lengthsAlong(view, path);
    const uncertainty = lengthUncertainty(map, lens, path, planeMap.squareOnUncertainty);
    return { lengths, uncertainty, sides: sidesOf(view, path) };
  } catch (error) {
    if (!(error instanceof CalibrationError)) throw error;
    throw new TakeError("calibration-not-here", `the calibration does not reach the path: ${error.message}`, {
      key: "calibration",
    });
  }
}

/** A pixel in the middle of a path, as the plane has it. */
function sidesOf(view: PlaneView, [[x1, y1], [x2, y2]]: readonly [Point, Point]): PlaneSides {
  const length = Math.hypot(x2 - x1, y2 - y1);
  const [dx, dy] = [(x2 - x1) / length, (y2 - y1) / length];
  const step = ([ax, ay]: Point): Point => {
    const [x, y] = [(x1 + x2) / 2, (y1 + y2) / 2];
    const end = planePoint(view, [x + ax / 2, y + ay / 2]);
    const start = planePoint(view, [x - ax / 2, y - ay / 2]);
    return [end[0] - start[0], end[1] - start[1]];
  };
  const [ahead, right] = [step([dx, dy]), step([-dy, dx])];
  const [along, across] = [Math.hypot(...ahead), Math.hypot(...right)];
  return { along, across, cosine: (ahead[0] * right[0] + ahead[1] * right[1]) / along / across };
}

/** The lines of the scale itself; pointing as it stands along the path. */
function partsOf(scale: ScaleFile, pointing: number | null): QuantityPart[] {
  return scale.budget.flatMap(({ source, type, relativeStandardUncertainty, degreesOfFreedom }) =>
    PARTS.some((part) => part === source)
      ? [
          {
            source,
            type,
            relativeStandardUncertainty:
              source === "pointing" && pointing !== null ? pointing : relativeStandardUncertainty,
            degreesOfFreedom: degreesOfFreedom ?? Number.POSITIVE_INFINITY,
          },
        ]
      : [],
  );
}

function effectsOf(scale: ScaleFile, along: ReturnType<typeof seenPlane> | null): CalibratedPath["effects"] {
  const line = (source: ScaleFile["budget"][number]["source"]): LengthEffect => {
    const found = scale.budget.find((one) => one.source === source);
    if (!found) return null;
    const { type, degreesOfFreedom, relativeStandardUncertainty } = found;
    return { type, degreesOfFreedom, relative: relativeStandardUncertainty };
  };
  const pointing = line("pointing") ?? ({ type: "B", degreesOfFreedom: null } as const);
  const lens = along?.uncertainty.lens ?? null;
  return {
    planes: line("event plane against scale plane"),
    // The same points leave it open as pointing.
    obliquity: along && { ...pointing, relative: along.uncertainty.obliquity },
    lens: lens === null ? null : { type: "B", degreesOfFreedom: null, relative: lens },
    refraction: line("refraction"),
  };
}
