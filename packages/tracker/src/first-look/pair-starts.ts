import type { FrontMotion } from "../model/joint-fit.js";

/** px, of a pair, to start from at least */
const LEAST_BLUR = 1.5;

/** Where a pair may run of which one line was followed: that line is the first, or the second, or lies between them. */
export function pairStarts(line: FrontMotion): readonly FrontMotion[] {
  const blurPixels = Math.max(2 * line.blurPixels, LEAST_BLUR);
  return [-1, 0, 1].map((place) => ({
    ...line,
    shape: "pair",
    blurPixels,
    interceptPixels: line.interceptPixels + place * blurPixels,
  }));
}
