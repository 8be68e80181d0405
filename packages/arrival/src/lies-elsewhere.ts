import type { Point } from "./types.js";

/** An origin is another than the one given by this many standard uncertainties (common practice, no source), and farther from it than whole pixels are rounded, px. */
const SURELY = 3;
const ROUNDED = 0.75;

/** Whether an origin that was given is surely not the one that the arrivals have.
 *  @param found  theirs, px in the picture, with the standard uncertainty of x and of y */
export function liesElsewhere(
  given: Point,
  found: Point,
  standardUncertainty: readonly [x: number, y: number],
): boolean {
  const off = found.map((value, k) => Math.abs(value - given[k]));
  const isCertain = off.some((value, k) => value > SURELY * standardUncertainty[k]);
  return isCertain && Math.hypot(...off) > ROUNDED;
}
