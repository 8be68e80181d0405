import type { TakeResult, TakeWarning } from "./types.js";

type Shape = NonNullable<TakeResult["shape"]>;

/** The result with the shape of the front, before its warnings, and what that shape means for the speed. */
export function withShape(result: TakeResult, shape: Shape): TakeResult {
  const { warnings, ...rest } = result;
  return { ...rest, shape, warnings: [...warnings, ...warningsOf(result, shape)] } as TakeResult;
}

function warningsOf({ speed }: TakeResult, { name, circle, measuredAlong }: Shape): TakeWarning[] {
  if (!speed || name !== "circle" || !circle) return [];
  const { axes } = circle;
  if (measuredAlong === "rows-or-columns")
    return [
      {
        code: "circle-not-followed",
        message:
          "the front is a circle, but it was followed along rows or columns, where it is faster than along its radius: its arrivals leave the radius unsure, it closes, or the calibration holds a plane map or a lens, which are known along straight paths only. Give a path along a radius (--path)",
      },
    ];
  if (!axes?.differ) return [];
  const { ratio, angleDegrees } = axes;
  const [longer, shorter] = [Math.sqrt(ratio.value), 1 / Math.sqrt(ratio.value)].map((share) =>
    short(speed.value * share),
  );
  return [
    {
      code: "speed-differs-by-direction",
      message: `the front is an ellipse, not a circle: it ran at ${longer} m/s along its longer axis, at ${angleDegrees.toFixed(0)} degrees from x towards y, and at ${shorter} m/s along its shorter one. The speed given is their geometric mean: say which direction is meant, or give a path along it (--path)`,
    },
  ];
}

function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}
