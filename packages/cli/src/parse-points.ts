import { CliError } from "./cli-error.js";

const decimal = /^[+-]?(?:\d+\.?\d*|\.\d+)$/;

/** One point `x,y`.
 *  @throws CliError `invalid-option` */
export function parsePair(option: string, text: string, example: string): [number, number] {
  const parts = text.split(",").map((part) => part.trim());
  if (parts.length !== 2 || !parts.every((part) => decimal.test(part)))
    throw new CliError(
      "invalid-option",
      `${option} must hold two numbers x,y in px, for example ${option} ${example}; got "${text}"`,
    );
  return [Number(parts[0]), Number(parts[1])];
}

/** Two points `x1,y1:x2,y2`.
 *  @throws CliError `invalid-option` */
export function parsePoints(option: string, text: string): [[number, number], [number, number]] {
  const points = text.split(":");
  const isPoint = (point: string) => {
    const parts = point.split(",").map((part) => part.trim());
    return parts.length === 2 && parts.every((part) => decimal.test(part));
  };
  if (points.length !== 2 || !points.every(isPoint))
    throw new CliError(
      "invalid-option",
      `${option} must be two points x1,y1:x2,y2 in px, for example ${option} 12,40:1180,52; got "${text}"`,
    );
  return [parsePair(option, points[0], "12,40"), parsePair(option, points[1], "12,40")];
}
