import type { MeasureOptions } from "@frontpace/take";
import { CliError } from "./cli-error.js";
import { parseQuantity, type QuantityRule } from "./parse-quantity.js";

/** Options of `measure` that can change the number, as text, by their names on the command line. */
export interface MeasureTexts {
  readonly rate?: string;
  readonly scale?: string;
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
}

/** Keys of take.json that each option sets. */
export const optionKeys: Readonly<Record<keyof MeasureTexts, readonly (keyof MeasureOptions)[]>> = {
  rate: ["rateHz", "rateUncertaintyHz"],
  scale: ["metresPerPixel", "metresPerPixelUncertainty"],
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
};

const rateRule: QuantityRule = {
  option: "--rate",
  wanted: "frames per second, a number > 0 with k or M if need be",
  example: "800k+-0.01%",
  units: { "": 0, k: 3, M: 6, Hz: 0, kHz: 3, MHz: 6 },
  withUncertainty: true,
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
  } = texts;
  return {
    ...(rate !== undefined && quantity(rate, rateRule, "rateHz", "rateUncertaintyHz")),
    ...(scale !== undefined && quantity(scale, scaleRule, "metresPerPixel", "metresPerPixelUncertainty")),
    ...(exposure !== undefined && { exposureSeconds: parseQuantity(exposure, exposureRule).value }),
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
  };
}

function quantity<V extends string, U extends string>(
  text: string,
  rule: QuantityRule,
  key: V,
  uncertaintyKey: U,
) {
  const { value, standardUncertainty } = parseQuantity(text, rule);
  const stated = standardUncertainty === undefined ? {} : { [uncertaintyKey]: standardUncertainty };
  return { [key]: value, ...stated } as Record<V, number> & Partial<Record<U, number>>;
}

const decimal = /^[+-]?(?:\d+\.?\d*|\.\d+)$/;
const whole = /^[+-]?\d+$/;

function parsePath(text: string): [[number, number], [number, number]] {
  const parts = text.split(":").map((point) => point.split(",").map((part) => part.trim()));
  const complete =
    parts.length === 2 &&
    parts.every((point) => point.length === 2 && point.every((part) => decimal.test(part)));
  if (!complete) throw wrong("--path", "two points x1,y1:x2,y2 in px", "12,40:1180,52", text);
  const [[x1, y1], [x2, y2]] = parts;
  return [
    [Number(x1), Number(y1)],
    [Number(x2), Number(y2)],
  ];
}

function parseWidth(text: string): number {
  const width = decimal.test(text) ? Number(text) : Number.NaN;
  if (!(width >= 1 && Number.isFinite(width))) throw wrong("--width", "a number >= 1, px", "24", text);
  return width;
}

function parsePolarity(text: string): "bright" | "dark" {
  if (text === "bright" || text === "dark") return text;
  throw wrong("--polarity", "bright or dark", "bright", text);
}

function parseTransfer(text: string): "linear" | "srgb" | "bt709" {
  if (text === "linear" || text === "srgb" || text === "bt709") return text;
  throw wrong("--transfer", "linear, srgb or bt709", "srgb", text);
}

function parseFrames(text: string): { firstFrame: number; lastFrame: number } {
  const parts = text.split("..");
  const numbers = parts.map((part) => (whole.test(part) ? Number(part) : Number.NaN));
  if (parts.length !== 2 || !numbers.every(Number.isSafeInteger) || numbers[0] > numbers[1]) {
    throw wrong("--frames", "two frame numbers a..b, a <= b, both included", "-12..145", text);
  }
  return { firstFrame: numbers[0], lastFrame: numbers[1] };
}

function parseCount(option: string, text: string, example: string): number {
  const count = whole.test(text) ? Number(text) : Number.NaN;
  if (!(Number.isSafeInteger(count) && count >= 1)) throw wrong(option, "a whole number >= 1", example, text);
  return count;
}

function wrong(option: string, wanted: string, example: string, text: string): CliError {
  return new CliError(
    "invalid-option",
    `${option} must be ${wanted}, for example ${option} ${example}; got "${text}"`,
  );
}
