import type { TakeResult, TakeWarning } from "../types.js";

/** Degrees from rows and columns at which a trace is faster by 0.4 %. */
const WELL_ASIDE = 5;

type Shape = NonNullable<TakeResult["shape"]>;

/** The result with the shape of the front, before its warnings, and what that shape means for the speed. */
export function withShape(result: TakeResult, shape: Shape): TakeResult {
  const { warnings, ...rest } = result;
  return { ...rest, shape, warnings: [...warnings, ...warningsOf(result, shape)] } as TakeResult;
}

function warningsOf({ speed }: TakeResult, shape: Shape): TakeWarning[] {
  const { name, circle, measuredAlong } = shape;
  if (!speed) return [];
  if (measuredAlong === "rows-or-columns" && isOfUnsureDirection(shape))
    return [
      {
        code: "direction-unsure",
        message: `${name === "none" ? "the front is neither straight nor a circle" : "the front is not straight enough to tell its direction"}, and was followed along rows or columns: where it meets them at an angle it is faster there than across itself, and other parts of it may run at another speed. Look at the map (--map), and give a path along which the part that is meant runs (--path)`,
      },
    ];
  if (name !== "circle" || !circle) return [];
  const { axes } = circle;
  if (measuredAlong === "rows-or-columns")
    return [
      {
        code: "circle-not-followed",
        message:
          "the front is a circle, but it was followed along rows or columns, where it is faster than along its radius: its arrivals leave the radius unsure, or the calibration holds a plane map or a lens, which are known along straight paths only. Give a path along a radius (--path)",
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
      message: `the front is an ellipse, not a circle: it ran at ${longer} m/s along its longer axis, at ${Math.round(angleDegrees) || 0} degrees from x towards y, and at ${shorter} m/s along its shorter one. The speed given is their geometric mean: say which direction is meant, or give a path along it (--path)`,
    },
  ];
}

/** Whether rows and columns are not the direction of the front for all that its arrivals tell. */
function isOfUnsureDirection({ name, straight }: Shape): boolean {
  if (name === "none") return true;
  if (name !== "straight" || !straight) return false;
  const { value } = straight.angleDegrees;
  return Math.abs(value - 90 * Math.round(value / 90)) > WELL_ASIDE;
}

function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}
