import { digits, twoDigits } from "./digits.js";
import type { CheckLine, FocusFacts } from "./types.js";

/** Edges blurred over more than this place a front worse than the pixels would (common practice, no source), px. */
const MOST_BLUR = 2;

/** Sharpness, by the sharpest edge that the path crosses: others may be soft by themselves. */
export function checkFocus({ edges, mostBlurPixels = MOST_BLUR }: FocusFacts): CheckLine {
  const [sharpest] = edges;
  if (!sharpest)
    return {
      check: "focus",
      verdict: "not-checked",
      message: "the path crosses no straight edge that stands by itself",
      advice:
        "put a card with a straight edge, slanted by some 5 degrees, where the front will run, and check again",
      values: { blurPixels: null, standardUncertaintyPixels: null, edges: 0 },
    };
  const { blurAlongPixels: blur, standardUncertaintyPixels: u, place } = sharpest;
  const isSharp = blur <= mostBlurPixels;
  return {
    check: "focus",
    verdict: isSharp ? "pass" : "warn",
    message: `edge blur ${digits(blur)} px +- ${twoDigits(u)} px along the path (standard deviation, sharpest of ${edges.length}, at ${digits(place[0])},${digits(place[1])}); up to ${digits(mostBlurPixels)} px are allowed`,
    advice: isSharp
      ? null
      : "focus on the plane in which the front will run, and close the aperture for more depth",
    values: { blurPixels: blur, standardUncertaintyPixels: u, edges: edges.length },
  };
}
