import type {
  Correspondence,
  DepthOptions,
  GridPattern,
  MeasuredLength,
  Point,
} from "@frontpace/calibration";
import type { ScaleFile } from "../types.js";
import { type CalibrationStill, readStills } from "./read-stills.js";

/** What of known size the stills show. */
export type Standard =
  | { readonly kind: "lengths"; readonly lengths: readonly MeasuredLength[] }
  | {
      readonly kind: "points";
      readonly points: readonly Correspondence[];
      /** Of the lengths between them; absent: not stated. */
      readonly relativeStandardUncertainty?: number;
    }
  | {
      readonly kind: "grid";
      readonly pattern: GridPattern;
      readonly relativeStandardUncertainty?: number;
    };

export interface CalibrateOptions {
  readonly standard: Standard;
  /** One standard uncertainty of a coordinate marked by hand, px. Default: 0.5, and said. */
  readonly pointingPixels?: number;
  /** Whether the distortion of the lens is told from all stills. Default: false. */
  readonly lens?: boolean;
  /** Sensor pixel in the top left corner of the stills. Default: [0, 0]. */
  readonly sensorOffset?: Point;
  /** Default: 1. */
  readonly binning?: number;
  /** Size of the sensor, px, where the stills do not show all of it: the lens looks at its middle. */
  readonly sensor?: { readonly columns: number; readonly rows: number };
  /** In which the event runs. Default: "air". */
  readonly medium?: string;
  readonly depth?: DepthOptions;
}

export interface Calibration {
  readonly scale: ScaleFile;
  /** The stills with the points that were used, px. */
  readonly stills: readonly (CalibrationStill & { readonly points: readonly Point[] })[];
}

/** See `calibrate.ts`, which loads it. */
export async function calibrateStills(
  files: readonly string[],
  options: CalibrateOptions,
  { signal }: { readonly signal?: AbortSignal } = {},
): Promise<Calibration> {
  const stills = await readStills(files, signal);
  const { scaleOfStills } = await import("./scale-of-stills.js");
  return scaleOfStills(stills, options, signal);
}
