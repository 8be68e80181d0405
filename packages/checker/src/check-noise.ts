import { digits, percent } from "./digits.js";
import type { CheckLine, NoiseFacts } from "./types.js";

/** A step is told in one frame where it stands so many times above the noise of the band (common practice, no source). */
const TOLD = 5;
/** A smallest step of more than this part of the range calls for more light (common practice, no source). */
const MOST_STEP = 0.1;

/** Noise, and the smallest step that it would let through. */
export function checkNoise(facts: NoiseFacts): CheckLine {
  const { noise, width, effectiveRows, white, brightest, isOfStill } = facts;
  if (!noise)
    return {
      check: "noise",
      verdict: "not-checked",
      message: "fewer than 4 frames do not tell noise",
      advice: null,
      values: { pixelNoise: null, bandNoise: null, smallestStep: null },
    };
  const smallestStep = TOLD * noise.sample;
  const range = white ?? brightest;
  const worth = effectiveRows === null ? "" : `, worth ${digits(effectiveRows)}`;
  const isLow = smallestStep <= MOST_STEP * range;
  return {
    check: "noise",
    verdict: isLow ? "pass" : "warn",
    message: `noise of a pixel ${digits(noise.pixel)}${isOfStill ? " (of one still, its texture in it)" : ""}, of ${width} rows${worth}, ${digits(noise.sample)}; the smallest step let through is ${digits(smallestStep)}, ${percent(smallestStep / range)} of the range`,
    advice: isLow ? null : "give more light, or a wider band (--width)",
    values: { pixelNoise: noise.pixel, bandNoise: noise.sample, smallestStep },
  };
}
