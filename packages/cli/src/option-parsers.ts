import { CliError } from "./cli-error.js";
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

const decimal = /^[+-]?(?:\d+\.?\d*|\.\d+)$/;
const whole = /^[+-]?\d+$/;

/** Two points `x1,y1:x2,y2`, px. */
export function parsePath(text: string): [[number, number], [number, number]] {
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

export function parseWidth(text: string): number {
  const width = decimal.test(text) ? Number(text) : Number.NaN;
  if (!(width >= 1 && Number.isFinite(width))) throw wrong("--width", "a number >= 1, px", "24", text);
  return width;
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
