import { CliError } from "../terminal/cli-error.js";
import { parseQuantity, type QuantityRule } from "./parse-quantity.js";

/** What `--rate` takes. */
export const rateRule: QuantityRule = {
  option: "--rate",
  wanted: "frames per second, a number > 0 with k or M if need be",
  example: "800k+-0.01%",
  units: { "": 0, k: 3, M: 6, Hz: 0, kHz: 3, MHz: 6 },
  withUncertainty: true,
};

/** A quantity as the keys of take.json: its value, and its uncertainty where one is stated. */
export function quantity<V extends string, U extends string>(
  text: string,
  rule: QuantityRule,
  key: V,
  uncertaintyKey: U,
) {
  const { value, standardUncertainty } = parseQuantity(text, rule);
  const stated = standardUncertainty === undefined ? {} : { [uncertaintyKey]: standardUncertainty };
  return { [key]: value, ...stated } as Record<V, number> & Partial<Record<U, number>>;
}

/** A number without unit or power of ten. */
export const decimal = /^[+-]?(?:\d+\.?\d*|\.\d+)$/;
const whole = /^[+-]?\d+$/;

export function parseWidth(text: string): number {
  return parseLeast("--width", text, 1, "px", "24");
}

/** Two frame numbers `a..b`. */
export function parseFrames(text: string): { firstFrame: number; lastFrame: number } {
  const parts = text.split("..");
  const numbers = parts.map((part) => (whole.test(part) ? Number(part) : Number.NaN));
  if (parts.length !== 2 || !numbers.every(Number.isSafeInteger) || numbers[0] > numbers[1]) {
    throw wrong("--frames", "two frame numbers a..b, a <= b, both included", "-12..145", text);
  }
  return { firstFrame: numbers[0], lastFrame: numbers[1] };
}

/** A number of `least` or more, with or without its unit. */
export function parseLeast(
  option: string,
  text: string,
  least: number,
  unit: string,
  example: string,
): number {
  const bare = text.trim().replace(/\s*px$/, "");
  const value = decimal.test(bare) ? Number(bare) : Number.NaN;
  if (!(value >= least && Number.isFinite(value)))
    throw wrong(option, `a number >= ${least}, ${unit}`, example, text);
  return value;
}

export function parseTransfer(text: string): "linear" | "srgb" | "bt709" {
  if (text === "linear" || text === "srgb" || text === "bt709") return text;
  throw wrong("--transfer", "linear, srgb or bt709", "srgb", text);
}

export function parseFrameCount(option: string, text: string, example: string): number {
  const count = whole.test(text) ? Number(text) : Number.NaN;
  if (!(Number.isSafeInteger(count) && count >= 0)) throw wrong(option, "a whole number >= 0", example, text);
  return count;
}

export function parseCount(option: string, text: string, example: string): number {
  const count = whole.test(text) ? Number(text) : Number.NaN;
  if (!(Number.isSafeInteger(count) && count >= 1)) throw wrong(option, "a whole number >= 1", example, text);
  return count;
}

export function wrong(option: string, wanted: string, example: string, text: string): CliError {
  return new CliError(
    "invalid-option",
    `${option} must be ${wanted}, for example ${option} ${example}; got "${text}"`,
  );
}
