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
  return speed ? [...directionWarnings(speed, shape), ...originWarnings(shape)] : [];
}

/** An origin that was given and is not the one that the arrivals have: beside it radii are other lengths, by the direction. */
function originWarnings({ name, circle }: Shape): TakeWarning[] {
  const found = circle?.aboutFound;
  if (name !== "circle" || !circle || !found?.contradicted) return [];
  const off = found.origin.map((value, k) => circle.origin[k] - value);
  const [x, y] = found.origin.map((value, k) => withUncertainty(value, found.originUncertainty?.[k] ?? null));
  return [
    {
      code: "origin-contradicted",
      message: `the origin that was given lies ${short(Math.hypot(...off))} px from the one that the arrivals have, ${x} and ${y} px. About a wrong origin the speed is off by more than its interval says: by the arrivals alone it is ${short(circle.speed.value)} m/s about the one given and ${short(found.speed.value)} m/s about theirs. Leave --origin out, or give theirs`,
    },
  ];
}

function withUncertainty(value: number, u: number | null): string {
  return u === null ? value.toFixed(1) : `${value.toFixed(2)}+-${u.toPrecision(1)}`;
}

function directionWarnings(speed: NonNullable<TakeResult["speed"]>, shape: Shape): TakeWarning[] {
  const { name, circle, measuredAlong } = shape;
  if (isOfUnsureDirection(shape))
    return [
      {
        code: "direction-unsure",
        message: `${name === "none" ? "the front is neither straight nor a circle" : "the front is not straight enough to tell its direction"}, and was followed ${measuredAlong === "path" ? "in its mean direction" : "along rows or columns"}: where it meets that at an angle it is faster there than across itself, and other parts of it may run at another speed. Look at the map (--map), and give a path along which the part that is meant runs (--path)`,
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

/** Whether that in which it was followed may not be the direction of the front, for all that its arrivals tell. */
function isOfUnsureDirection({ name, form, straight, measuredAlong }: Shape): boolean {
  if (name === "none") return !form;
  if (name !== "straight" || !straight || measuredAlong !== "rows-or-columns") return false;
  const { value } = straight.angleDegrees;
  return Math.abs(value - 90 * Math.round(value / 90)) > WELL_ASIDE;
}

function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}
