import type { MeasureOptions } from "@frontpace/take";
import {
  parseCount,
  parseFrames,
  parsePath,
  parseTransfer,
  parseWidth,
  quantity,
  rateRule,
  wrong,
} from "./option-parsers.js";
import { parsePair } from "./parse-points.js";
import { parseQuantity, type QuantityRule } from "./parse-quantity.js";

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

const scaleRule: QuantityRule = {
  option: "--scale",
  wanted: "the length of one pixel, a number > 0 with its unit (m, cm, mm, um, nm)",
  example: "0.2mm+-0.5%",
  units: { m: 0, cm: -2, mm: -3, um: -6, µm: -6, μm: -6, nm: -9 },
  withUncertainty: true,
};

const exposureRule: QuantityRule = {
  option: "--exposure",
  wanted: "the time during which a frame collects light, a number > 0 with its unit (s, ms, us, ns)",
  example: "1us",
  units: { s: 0, ms: -3, us: -6, µs: -6, μs: -6, ns: -9 },
  withUncertainty: false,
};

const lightPulseRule: QuantityRule = {
  ...exposureRule,
  option: "--light-pulse",
  wanted: "the length of the light pulse within each frame, a number > 0 with its unit (s, ms, us, ns)",
  example: "200ns",
};

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
    ...(binning !== undefined && { binning: parseBinning(binning) }),
    ...(medium !== undefined && { medium: parseName("--medium", medium, "water") }),
    ...(path !== undefined && { path: parsePath(path) }),
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

function parseBinning(text: string): number {
  const binning = /^\d+(\.\d*)?$/.test(text) ? Number(text) : Number.NaN;
  if (!(binning >= 1)) throw wrong("--binning", "a number >= 1", "2", text);
  return binning;
}

function parsePolarity(text: string): "bright" | "dark" {
  if (text === "bright" || text === "dark") return text;
  throw wrong("--polarity", "bright or dark", "bright", text);
}
