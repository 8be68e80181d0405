import { digits } from "./digits.js";
import type { CheckLine, DriftFacts, ShiftSeen } from "./types.js";

/** A picture that moves less is called still (common practice, no source), px. */
const STILL = 0.05;

/** Drift and shake of the camera, along the path and across it. */
export function checkDrift({ frames, along, across }: DriftFacts): CheckLine {
  const values = {
    alongPixels: along?.extentPixels ?? null,
    acrossPixels: across?.extentPixels ?? null,
    standardUncertaintyPixels: along?.standardUncertaintyPixels ?? null,
  };
  const line = { check: "drift", values } as const;
  const moving = [
    ["along the path", along],
    ["across it", across],
  ].flatMap(([where, shift]) => {
    const { moves, extentPixels } = (shift ?? { moves: false, extentPixels: 0 }) as ShiftSeen;
    return moves && extentPixels > STILL ? [`${digits(extentPixels)} px ${where}`] : [];
  });
  if (moving.length > 0)
    return {
      ...line,
      verdict: "warn",
      message: `the picture moves by ${moving.join(" and ")}, peak to peak`,
      advice: "fasten camera and lens, take fans and pumps off the table, and film again",
    };
  if (!along)
    return {
      ...line,
      verdict: "not-checked",
      message:
        frames === 1
          ? "one still does not tell whether the picture moves"
          : "the picture shows too little texture along the path, or too few frames, to tell whether it moves",
      advice: null,
    };
  return {
    ...line,
    verdict: "pass",
    message: `the picture stands still along the path, to ${digits(along.standardUncertaintyPixels)} px (k = 1) in each frame`,
    advice: null,
  };
}
