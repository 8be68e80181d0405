import { digits } from "./digits.js";
import type { CheckLine, DriftFacts, ShiftSeen } from "./types.js";

/** A picture that moves less is called still (common practice, no source), px. */
const STILL = 0.05;

/** Drift and shake of the camera, along the path and across it; where no texture tells, across the one edge that shows. */
export function checkDrift({ frames, along, across, acrossEdge = null }: DriftFacts): CheckLine {
  const told = along ?? acrossEdge;
  const values = {
    alongPixels: along?.extentPixels ?? null,
    acrossPixels: across?.extentPixels ?? null,
    acrossEdgePixels: acrossEdge?.extentPixels ?? null,
    standardUncertaintyPixels: told?.standardUncertaintyPixels ?? null,
  };
  const line = { check: "drift", values } as const;
  const [x, y] = acrossEdge?.place.map(digits) ?? [];
  const edge = `across the edge at ${x},${y}`;
  const unseen =
    !along && acrossEdge && !isMoving(across)
      ? "; along that edge it is not seen (texture, or an edge in another direction, would show it)"
      : "";
  const moving = [
    ["along the path", along] as const,
    [edge, acrossEdge] as const,
    ["across the path", across] as const,
  ].flatMap(([where, shift]) => (isMoving(shift) ? [`${digits(shift.extentPixels)} px ${where}`] : []));
  if (moving.length > 0)
    return {
      ...line,
      verdict: "warn",
      message: `the picture moves by ${moving.join(" and ")}, peak to peak${unseen}`,
      advice: "fasten camera and lens, take fans and pumps off the table, and film again",
    };
  if (!told) return { ...line, verdict: "not-checked", ...untold(frames) };
  return {
    ...line,
    verdict: "pass",
    message: `the picture stands still ${along ? "along the path" : edge}, to ${digits(told.standardUncertaintyPixels)} px (k = 1) in each frame${unseen}`,
    advice: null,
  };
}

function isMoving(shift: ShiftSeen | null): shift is ShiftSeen {
  return shift?.moves === true && shift.extentPixels > STILL;
}

function untold(frames: number): Pick<CheckLine, "message" | "advice"> {
  return frames === 1
    ? { message: "one still does not tell whether the picture moves", advice: null }
    : {
        message:
          "the picture shows too little texture along the path, or too few frames, to tell whether it moves",
        advice: "put something with texture on the path, for the check only",
      };
}
