import type { FrameRegion, Streak } from "@frontpace/tracker";
import type { CalibratedPath } from "../path/calibrated-path.js";
import type { CalibrationInUse, Settings } from "../settings/settle.js";
import type { TakeResult, TakeWarning } from "../types.js";

/** What the frames say of themselves, for the record. */
export interface FramesUsed {
  readonly name: string;
  readonly numbers: readonly number[];
  readonly rows: number;
  readonly columns: number;
  readonly bitDepth: number;
  readonly hash: string;
  /** Of the picture, over which the hash is; null: none was read. */
  readonly part: FrameRegion | null;
  readonly warnings: readonly TakeWarning[];
}

/** The take as used, keys in the order of the file. */
export function takeAsUsed(
  settings: Settings,
  frames: FramesUsed,
  streak: Streak,
  calibrated: CalibratedPath | null,
): TakeResult["take"] {
  const [from, to] = streak.path;
  return {
    name: frames.name,
    frames: frames.numbers.length,
    firstFrame: frames.numbers[0],
    lastFrame: frames.numbers[frames.numbers.length - 1],
    rows: frames.rows,
    columns: frames.columns,
    bitDepth: frames.bitDepth,
    rateHz: settings.rateHz.value,
    rateUncertaintyHz: settings.rateHz.standardUncertainty ?? null,
    exposureSeconds: settings.exposureSeconds,
    ...(settings.lightPulseSeconds !== null && { lightPulseSeconds: settings.lightPulseSeconds }),
    metresPerPixel: settings.metresPerPixel.value,
    metresPerPixelUncertainty: settings.metresPerPixel.standardUncertainty ?? null,
    ...(settings.calibration &&
      calibrated && { calibration: calibrationAsUsed(settings.calibration, calibrated) }),
    path: [
      [from[0], from[1]],
      [to[0], to[1]],
    ],
    width: streak.width,
    ...(streak.effectiveRows !== null && { effectiveRows: Number(streak.effectiveRows.toFixed(1)) }),
    polarity: settings.polarity,
    ...(settings.front !== null && { front: settings.front }),
    ...(settings.model !== null && { model: settings.model }),
    ...(settings.startTimeSeconds !== null && { startTimeSeconds: settings.startTimeSeconds }),
    ...(settings.airTemperatureKelvin && {
      airTemperatureKelvin: settings.airTemperatureKelvin.value,
      airTemperatureUncertaintyKelvin: settings.airTemperatureKelvin.standardUncertainty ?? null,
    }),
    ...(settings.distanceMetres && {
      distanceMetres: settings.distanceMetres.value,
      distanceUncertaintyMetres: settings.distanceMetres.standardUncertainty ?? null,
    }),
    ...(settings.rowTimeSeconds !== null && { rowTimeSeconds: settings.rowTimeSeconds }),
    ...(settings.timestamps && { timestamps: true as const }),
    frameStep: settings.frameStep,
    ...(settings.skipBad && { skipBad: true as const }),
    ...(settings.transfer && { transfer: settings.transfer }),
    ...(settings.raw !== null && { raw: settings.raw }),
    framesHash: frames.hash,
    ...(frames.part && { framesPart: frames.part }),
    stated: [...settings.stated],
  };
}

function calibrationAsUsed(
  { scale, sensorOffset, binning, medium }: CalibrationInUse,
  { record }: CalibratedPath,
): NonNullable<TakeResult["take"]["calibration"]> {
  return {
    ...record,
    ...(sensorOffset && { sensorOffset: [sensorOffset[0], sensorOffset[1]] as [number, number] }),
    ...(binning !== null && { binning }),
    medium,
    stills: [...scale.madeFrom.stills],
  };
}
