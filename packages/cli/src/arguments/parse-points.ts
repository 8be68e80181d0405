import { decimal, wrong } from "./option-parsers.js";

/** One point `x,y`.
 *  @param example  of the whole option
 *  @throws CliError `invalid-option` */
export function parsePair(option: string, text: string, example: string): [number, number] {
  const pair = pairIn(text);
  if (!pair) throw wrong(option, "two numbers x,y in px", example, text);
  return pair;
}

/** Two points `x1,y1:x2,y2`.
 *  @throws CliError `invalid-option` */
export function parsePoints(option: string, text: string): [[number, number], [number, number]] {
  const [from, to, ...rest] = text.split(":").map(pairIn);
  if (!from || !to || rest.length > 0)
    throw wrong(option, "two points x1,y1:x2,y2 in px", "12,40:1180,52", text);
  return [from, to];
}

/** Two opposite corners `x1,y1:x2,y2` in whole px.
 *  @throws CliError `invalid-option` */
export function parseCorners(option: string, text: string): [[number, number], [number, number]] {
  const corners = text.split(":").map(pairIn);
  const [from, to] = corners;
  const isWhole = corners.every((pair) => pair?.every((value) => Number.isInteger(value) && value >= 0));
  if (!from || !to || corners.length > 2 || !isWhole)
    throw wrong(option, "two opposite corners x1,y1:x2,y2 in whole px", "0,20:1279,51", text);
  return [from, to];
}

function pairIn(text: string): [number, number] | null {
  const parts = text.split(",").map((part) => part.trim());
  if (parts.length !== 2 || !parts.every((part) => decimal.test(part))) return null;
  return [Number(parts[0]), Number(parts[1])];
}
