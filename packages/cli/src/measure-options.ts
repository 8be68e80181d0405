import type { MeasureOptions } from "@frontpace/take";
import {
  parseCount,
  parseFrames,
  parseLeast,
  parseTransfer,
  parseWidth,
  quantity,
  rateRule,
  wrong,
} from "./option-parsers.js";
import { parsePair, parsePoints } from "./parse-points.js";
import { parseQuantity } from "./parse-quantity.js";
import { lengthRule, timeRule } from "./units.js";

/** Options of `measure` that can change the number, as text, by their names on the command line. */
export interface MeasureTexts {
  readonly rate?: string;
  readonly scale?: string;
  readonly calibration?: string;
  readonly sensorOffset?: string;
  readonly binning?: string;
  readonly medium?: string;
  readonly path?: string;
  readonly width?: string;
  readonly polarity?: string;
  readonly front?: string;
  readonly frames?: string;
  readonly every?: string;
  readonly exposure?: string;
  readonly lightPulse?: string;
  readonly transfer?: string;
  readonly skipBad?: boolean;
  readonly raw?: string;
  readonly plan?: string;
  readonly material?: string;
}

/** Keys of take.json that each option sets. */
export const optionKeys: Readonly<Record<keyof MeasureTexts, readonly (keyof MeasureOptions)[]>> = {
  rate: ["rateHz", "rateUncertaintyHz"],
  scale: ["metresPerPixel", "metresPerPixelUncertainty"],
  calibration: ["calibration"],
  sensorOffset: ["sensorOffset"],
  binning: ["binning"],
  medium: ["medium"],
  path: ["path"],
  width: ["width"],
  polarity: ["polarity"],
  front: ["front"],
  frames: ["firstFrame", "lastFrame"],
  every: ["frameStep"],
  exposure: ["exposureSeconds"],
  lightPulse: ["lightPulseSeconds"],
  transfer: ["transfer"],
  skipBad: ["skipBad"],
  raw: ["raw"],
  plan: ["plan"],
  material: ["material"],
};

const scaleRule = lengthRule("--scale", "the length of one pixel", "0.2mm+-0.5%");
const exposureRule = timeRule("--exposure", "the time during which a frame collects light", "1us");
const lightPulseRule = timeRule("--light-pulse", "the length of the light pulse within each frame", "200ns");

/** Reads the options' texts.
 *  @throws CliError `invalid-option` */
export function measureOptions(texts: MeasureTexts): MeasureOptions {
  const {
    rate,
    scale,
    calibration,
    sensorOffset,
    binning,
    medium,
    path,
    width,
    polarity,
    front,
    frames,
    every,
    exposure,
    lightPulse,
    transfer,
    skipBad,
    raw,
    plan,
    material,
  } = texts;
  return {
    ...(rate !== undefined && quantity(rate, rateRule, "rateHz", "rateUncertaintyHz")),
    ...(scale !== undefined && quantity(scale, scaleRule, "metresPerPixel", "metresPerPixelUncertainty")),
    ...(exposure !== undefined && { exposureSeconds: parseQuantity(exposure, exposureRule).value }),
    ...(calibration !== undefined && { calibration: parseName("--calibration", calibration, "scale.json") }),
    ...(sensorOffset !== undefined && { sensorOffset: parsePair("--sensor-offset", sensorOffset, "0,364") }),
    ...(binning !== undefined && { binning: parseLeast("--binning", binning, 1, "sensor pixels", "2") }),
    ...(medium !== undefined && { medium: parseName("--medium", medium, "water") }),
    ...(path !== undefined && { path: parsePoints("--path", path) }),
    ...(width !== undefined && { width: parseWidth(width) }),
    ...(polarity !== undefined && { polarity: parsePolarity(polarity) }),
    ...(front !== undefined && { front: parseCount("--front", front, "2") }),
    ...(frames !== undefined && parseFrames(frames)),
    ...(every !== undefined && { frameStep: parseCount("--every", every, "10") }),
    ...(lightPulse !== undefined && { lightPulseSeconds: parseQuantity(lightPulse, lightPulseRule).value }),
    ...(transfer !== undefined && { transfer: parseTransfer(transfer) }),
    ...(skipBad !== undefined && { skipBad }),
    ...(raw !== undefined && { raw }),
    ...(plan !== undefined && { plan }),
    ...(material !== undefined && { material }),
  };
}

function parseName(option: string, text: string, example: string): string {
  if (text.trim() === "") throw wrong(option, "a name", example, text);
  return text;
}

function parsePolarity(text: string): "bright" | "dark" {
  if (text === "bright" || text === "dark") return text;
  throw wrong("--polarity", "bright or dark", "bright", text);
}
