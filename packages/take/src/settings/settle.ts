import type { Quantity } from "@frontpace/fit";
import { TakeError } from "../take-error.js";
import type { MeasureOptions, ScaleFile, TakeFile } from "../types.js";
import { checkExposure } from "./check-exposure.js";
import { checkExtent } from "./check-extent.js";
import { provisionalScale } from "./provisional-scale.js";
import { meanRate, type Timestamps } from "./timestamps.js";

/** Options and take.json joined and checked: complete, except for what only the frames can tell. */
export interface Settings {
  readonly rateHz: Quantity;
  readonly metresPerPixel: Quantity;
  /** Where the scale comes from, and what is known of the frames' place on the sensor; null where it was given as a number. */
  readonly calibration: CalibrationInUse | null;
  readonly exposureSeconds: number | null;
  /** Length of the light pulse within each frame; null where light is steady or nothing is known of it. */
  readonly lightPulseSeconds: number | null;
  readonly path: MeasureOptions["path"] | null;
  readonly width: number | null;
  readonly polarity: "bright" | "dark" | null;
  readonly front: number | null;
  /** null: a constant speed, and warnings where the positions show another. */
  readonly model: NonNullable<MeasureOptions["model"]> | null;
  /** When a front that follows a power law started, s on the clock of the frames; null: found. */
  readonly startTimeSeconds: number | null;
  /** Of the air that a shock runs in, K; null: not stated. */
  readonly airTemperatureKelvin: Quantity | null;
  /** From the camera to the centre of a sphere that is seen by its limb, m; null: not stated. */
  readonly distanceMetres: Quantity | null;
  /** Time from row to row; null: all rows of a frame are taken at once. */
  readonly rowTimeSeconds: number | null;
  /** Times of the frames; null: number/rate. */
  readonly timestamps: Timestamps | null;
  /** Origin of a circular front, px; null: found. */
  readonly origin: readonly [number, number] | null;
  /** Edge of the cells of the arrival map, px; null: found. */
  readonly cell: number | null;
  /** The arrival map is kept whatever the front was followed by. */
  readonly map: boolean;
  readonly firstFrame: number | null;
  readonly lastFrame: number | null;
  readonly frameStep: number | null;
  readonly skipBad: boolean;
  readonly transfer: MeasureOptions["transfer"] | null;
  readonly raw: string | null;
  /** What cracks; null where it is not known. */
  readonly material: string | null;
  /** Keys that options or take.json state, in order of the alphabet; what in take.json does not survive an option is not among them. */
  readonly stated: readonly string[];
}

/** A scale.json as it is applied to a take. */
export interface CalibrationInUse {
  readonly scale: ScaleFile;
  /** null: not stated. */
  readonly sensorOffset: readonly [number, number] | null;
  /** null: not stated. */
  readonly binning: number | null;
  readonly medium: string;
}

/** Whether the scale differs from place to place: with a plane map or a lens, which are known along straight paths. */
export function bendsLengths(calibration: CalibrationInUse | null): boolean {
  return calibration?.scale.planeMap !== undefined || calibration?.scale.lens !== undefined;
}

/** Joins checked options with take.json, options winning, and checks how values fit each other. An uncertainty belongs to the value
 *  it was stated with: one in take.json does not survive a rate or scale given in the options.
 *  @param scale  the calibration that they name
 *  @param timestamps  the table that they name; without a rate its mean rate is taken, of unknown uncertainty */
export function settle(
  options: MeasureOptions,
  file: TakeFile | null,
  scale: ScaleFile | null = null,
  timestamps: Timestamps | null = null,
): Settings {
  const joined = { ...file, ...options };
  const { exposureSeconds, lightPulseSeconds, path, width, polarity, front, firstFrame, lastFrame } = joined;
  const rateHz =
    timestamps && joined.rateHz === undefined
      ? { value: meanRate(timestamps) }
      : quantity(options, file, "rateHz", "rateUncertaintyHz");
  const calibration = scale && {
    scale,
    sensorOffset: joined.sensorOffset ?? null,
    binning: joined.binning ?? null,
    medium: joined.medium ?? "air",
  };
  const metresPerPixel = calibration
    ? provisionalScale(calibration)
    : quantity(options, file, "metresPerPixel", "metresPerPixelUncertainty");

  checkExposure(exposureSeconds, rateHz.value);
  const longestPulse = exposureSeconds ?? 1 / rateHz.value;
  if (lightPulseSeconds !== undefined && lightPulseSeconds > longestPulse * (1 + 1e-9)) {
    const limit =
      exposureSeconds === undefined ? `the interval 1/rateHz = ${short(longestPulse)} s` : "exposureSeconds";
    const given = exposureSeconds === undefined ? "" : ` (${exposureSeconds})`;
    const message = `lightPulseSeconds must not be longer than ${limit}${given}, got ${lightPulseSeconds}: check both units`;
    throw new TakeError("light-pulse-too-long", message, {
      key: "lightPulseSeconds",
      value: lightPulseSeconds,
    });
  }
  checkExtent(joined);
  return {
    rateHz,
    metresPerPixel,
    calibration,
    exposureSeconds: exposureSeconds ?? null,
    lightPulseSeconds: lightPulseSeconds ?? null,
    path: path ?? null,
    width: width ?? null,
    polarity: polarity ?? null,
    front: front ?? null,
    model: joined.model ?? null,
    startTimeSeconds: joined.startTimeSeconds ?? null,
    airTemperatureKelvin: airTemperature(options, file, joined.model),
    distanceMetres: distance(options, file),
    rowTimeSeconds: joined.rowTimeSeconds ?? null,
    timestamps,
    origin: joined.origin ?? null,
    cell: joined.cell ?? null,
    map: joined.map ?? false,
    firstFrame: firstFrame ?? null,
    lastFrame: lastFrame ?? null,
    frameStep: joined.frameStep ?? null,
    skipBad: joined.skipBad ?? false,
    transfer: joined.transfer ?? null,
    raw: joined.raw ?? null,
    material: joined.material ?? null,
    stated: statedIn(options, file),
  };
}

/** Time from the reading of one row to that of the next, counted in frames; 0 where all are taken at once. */
export function rowTimeFrames({ rowTimeSeconds, rateHz }: Settings): number {
  return (rowTimeSeconds ?? 0) * rateHz.value;
}

function statedIn(options: MeasureOptions, file: TakeFile | null): string[] {
  const { format: _, version: __, notes: ___, copiedFrom: ____, ...ofFile } = file ?? {};
  // What is kept of a measurement changes nothing in it.
  const replaced = new Set<string>([
    ...(options.airTemperatureKelvin === undefined ? [] : ["airTemperatureUncertaintyKelvin"]),
    ...(options.distanceMetres === undefined ? [] : ["distanceUncertaintyMetres"]),
    ...(options.rateHz === undefined ? [] : ["rateUncertaintyHz"]),
    ...(options.metresPerPixel === undefined ? [] : ["metresPerPixelUncertainty"]),
  ]);
  const kept = Object.keys(ofFile).filter((key) => !replaced.has(key));
  return [...new Set([...kept, ...Object.keys(options)])].filter((key) => key !== "map").sort();
}

/** @throws TakeError `air-temperature-missing` where the model needs it */
function airTemperature(
  options: MeasureOptions,
  file: TakeFile | null,
  model: MeasureOptions["model"],
): Quantity | null {
  const value = options.airTemperatureKelvin ?? file?.airTemperatureKelvin;
  if (value !== undefined)
    return withUncertainty(options, file, value, "airTemperatureKelvin", "airTemperatureUncertaintyKelvin");
  if (model !== "decaying-shock") return null;
  const message =
    "the model decaying-shock tends to the speed of sound, and the temperature of the air is not given: give airTemperatureKelvin as an option or in take.json";
  throw new TakeError("air-temperature-missing", message, { key: "airTemperatureKelvin" });
}

function distance(options: MeasureOptions, file: TakeFile | null): Quantity | null {
  const value = options.distanceMetres ?? file?.distanceMetres;
  if (value === undefined) return null;
  return withUncertainty(options, file, value, "distanceMetres", "distanceUncertaintyMetres");
}

function quantity(
  options: MeasureOptions,
  file: TakeFile | null,
  key: "rateHz" | "metresPerPixel",
  uncertaintyKey: "rateUncertaintyHz" | "metresPerPixelUncertainty",
): Quantity {
  const value = options[key] ?? file?.[key];
  if (value === undefined) {
    const [code, what] =
      key === "rateHz"
        ? (["rate-missing", "the recording rate, in frames per second"] as const)
        : (["scale-missing", "the scale, in metres per pixel"] as const);
    throw new TakeError(code, `${what}, is not given: give ${key} as an option or in take.json`, { key });
  }
  return withUncertainty(options, file, value, key, uncertaintyKey);
}

function withUncertainty(
  options: MeasureOptions,
  file: TakeFile | null,
  value: number,
  key: "rateHz" | "metresPerPixel" | "airTemperatureKelvin" | "distanceMetres",
  uncertaintyKey:
    | "rateUncertaintyHz"
    | "metresPerPixelUncertainty"
    | "airTemperatureUncertaintyKelvin"
    | "distanceUncertaintyMetres",
): Quantity {
  const uncertainty =
    options[uncertaintyKey] ?? (options[key] === undefined ? file?.[uncertaintyKey] : undefined);
  if (uncertainty === undefined) return { value };
  if (uncertainty > value / 2) {
    const message = `${uncertaintyKey} must be at most half of ${key} (${value}), got ${uncertainty}: beyond that a speed computed from it means nothing`;
    throw new TakeError("invalid-value", message, { key: uncertaintyKey, value: uncertainty });
  }
  return { value, standardUncertainty: uncertainty };
}

function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}
