import type { ReportedResult } from "./reported-result.js";
import { roundPair } from "./round.js";

/** The shape of a front that does not run along rows or columns, and along what it was followed. */
export function describeShape({ shape }: ReportedResult): string[] {
  if (!shape || shape.measuredAlong === "rows-or-columns") return [];
  const { straight, form, circle, reason } = shape;
  if (form)
    return [
      `shape: neither straight nor a circle, running as a whole at ${text(form.angleDegrees)}° from x towards y; followed that way, line by line (${reason})`,
    ];
  if (shape.measuredAlong === "path" && shape.name !== "straight")
    return [
      `shape: none by the arrivals (${reason}); the front meets the rows at an angle, and was followed in the direction in which it runs on the whole`,
    ];
  if (shape.measuredAlong === "path" && straight)
    return [
      `shape: straight, running at ${text(straight.angleDegrees)}° from x towards y; followed that way (${reason})`,
    ];
  if (!circle) return [];
  const { axes } = circle;
  const { origin = circle.origin, originUncertainty = circle.originUncertainty } = axes?.differ
    ? axes
    : circle;
  const [x, y] = origin;
  const [ux, uy] = originUncertainty ?? [null, null];
  const found = circle.originGiven
    ? `${x}, ${y} px as given`
    : `${text({ value: x, standardUncertainty: ux })}, ${text({ value: y, standardUncertainty: uy })} px`;
  const differs = axes?.differ
    ? [
        `axes: ${text(axes.ratio)} to 1, the longer at ${Math.round(axes.angleDegrees) || 0}° from x towards y: the speed differs by direction, the one given is the geometric mean of those along the axes`,
      ]
    : [];
  return [`shape: circle about ${found}; followed along its radius (${reason})`, ...differs];
}

function text({ value, standardUncertainty }: { value: number; standardUncertainty: number | null }): string {
  if (!standardUncertainty) return value.toFixed(1);
  const { value: rounded, halfWidth } = roundPair(value, standardUncertainty);
  return `${rounded} +- ${halfWidth}`;
}
