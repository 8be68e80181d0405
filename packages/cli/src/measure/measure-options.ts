import type { MeasureOptions } from "@frontpace/take";
import { type FootageTexts, footageOptionKeys, footageOptions } from "../arguments/footage-options.js";
import { parseCount, parseLeast, quantity, wrong } from "../arguments/option-parsers.js";
import { parsePair } from "../arguments/parse-points.js";
import { parseQuantity } from "../arguments/parse-quantity.js";
import { parseTemperature } from "../arguments/parse-temperature.js";
import { exposureRule, lengthRule, timeRule } from "../arguments/units.js";

/** Options of `measure` that can change the number, as text, by their names on the command line. */
export interface MeasureTexts extends FootageTexts {
  readonly scale?: string;
  readonly calibration?: string;
  readonly sensorOffset?: string;
  readonly binning?: string;
  readonly medium?: string;
  readonly polarity?: string;
  readonly front?: string;
  readonly model?: string;
  readonly startTime?: string;
  readonly airTemperature?: string;
  readonly distance?: string;
  readonly rowTime?: string;
  readonly timestamps?: string;
  readonly origin?: string;
  readonly cell?: string;
  readonly map?: boolean;
  readonly exposure?: string;
  readonly lightPulse?: string;
  readonly plan?: string;
  readonly material?: string;
}

/** Keys of take.json that each option sets. */
export const optionKeys: Readonly<Record<keyof MeasureTexts, readonly (keyof MeasureOptions)[]>> = {
  ...footageOptionKeys,
  scale: ["metresPerPixel", "metresPerPixelUncertainty"],
  calibration: ["calibration"],
  sensorOffset: ["sensorOffset"],
  binning: ["binning"],
  medium: ["medium"],
  polarity: ["polarity"],
  front: ["front"],
  model: ["model"],
  startTime: ["startTimeSeconds"],
  airTemperature: ["airTemperatureKelvin", "airTemperatureUncertaintyKelvin"],
  distance: ["distanceMetres", "distanceUncertaintyMetres"],
  rowTime: ["rowTimeSeconds"],
  timestamps: ["timestamps"],
  origin: ["origin"],
  cell: ["cell"],
  map: ["map"],
  exposure: ["exposureSeconds"],
  lightPulse: ["lightPulseSeconds"],
  plan: ["plan"],
  material: ["material"],
};

const scaleRule = lengthRule("--scale", "the length of one pixel", "0.2mm+-0.5%");
const distanceRule = lengthRule(
  "--distance",
  "the distance from the camera's lens to the centre of the sphere",
  "3.2m+-1cm",
);
const lightPulseRule = timeRule("--light-pulse", "the length of the light pulse within each frame", "200ns");

const rowTimeRule = timeRule("--row-time", "the time from the reading of one row to the next", "4us");

/** Reads the options' texts.
 *  @throws CliError `invalid-option` */
export function measureOptions(texts: MeasureTexts): MeasureOptions {
  const {
    scale,
    calibration,
    sensorOffset,
    binning,
    medium,
    polarity,
    front,
    model,
    startTime,
    airTemperature,
    distance,
    rowTime,
    timestamps,
    origin,
    cell,
    map,
    exposure,
    lightPulse,
    plan,
    material,
  } = texts;
  return {
    ...footageOptions(texts),
    ...(scale !== undefined && quantity(scale, scaleRule, "metresPerPixel", "metresPerPixelUncertainty")),
    ...(exposure !== undefined && { exposureSeconds: parseQuantity(exposure, exposureRule).value }),
    ...(calibration !== undefined && { calibration: parseName("--calibration", calibration, "scale.json") }),
    ...(sensorOffset !== undefined && { sensorOffset: parsePair("--sensor-offset", sensorOffset, "0,364") }),
    ...(binning !== undefined && { binning: parseLeast("--binning", binning, 1, "sensor pixels", "2") }),
    ...(medium !== undefined && { medium: parseName("--medium", medium, "water") }),
    ...(polarity !== undefined && { polarity: parsePolarity(polarity) }),
    ...(front !== undefined && { front: parseCount("--front", front, "2") }),
    // Held against the models that there are where a take is measured.
    ...(model !== undefined && { model: model as NonNullable<MeasureOptions["model"]> }),
    ...(startTime !== undefined && { startTimeSeconds: parseStartTime(startTime) }),
    ...(airTemperature !== undefined && parseTemperature(airTemperature)),
    ...(distance !== undefined &&
      quantity(distance, distanceRule, "distanceMetres", "distanceUncertaintyMetres")),
    ...(rowTime !== undefined && { rowTimeSeconds: parseQuantity(rowTime, rowTimeRule).value }),
    ...(timestamps !== undefined && { timestamps: parseName("--timestamps", timestamps, "times.csv") }),
    ...(origin !== undefined && { origin: parsePair("--origin", origin, "412,-30.5") }),
    ...(cell !== undefined && { cell: parseCount("--cell", cell, "4") }),
    ...(map !== undefined && { map }),
    ...(lightPulse !== undefined && { lightPulseSeconds: parseQuantity(lightPulse, lightPulseRule).value }),
    ...(plan !== undefined && { plan }),
    ...(material !== undefined && { material }),
  };
}

/** A time of either sign, or 0. */
function parseStartTime(text: string): number {
  const rule = timeRule("--start-time", "the time at which the front started, of either sign", "-12us");
  const trimmed = text.trim();
  const [sign, bare] = trimmed.startsWith("-") ? [-1, trimmed.slice(1)] : [1, trimmed];
  return /^[+]?0+(\.0*)?\s*[a-zµμ]+$/.test(bare) ? 0 : sign * parseQuantity(bare, rule).value;
}

function parseName(option: string, text: string, example: string): string {
  if (text.trim() === "") throw wrong(option, "a name", example, text);
  return text;
}

function parsePolarity(text: string): "bright" | "dark" {
  if (text === "bright" || text === "dark") return text;
  throw wrong("--polarity", "bright or dark", "bright", text);
}
