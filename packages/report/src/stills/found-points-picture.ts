import { checkStill } from "../drawing/draw-on-still.js";

/** What `drawFoundPoints` draws: a still, and the points that a calibration goes by. */
export interface FoundPointsPicture {
  /** Brightness, row-major (rows, columns). */
  readonly data: Float64Array | Float32Array;
  /** [rows, columns], each >= 1. */
  readonly shape: readonly [number, number];
  /** px of the still, whole numbers are pixel centres. */
  readonly points: readonly (readonly [number, number])[];
  /** `pairs`: a line between every two points; `axes`: the first point is the origin, and points are joined in their order. */
  readonly joined: "pairs" | "axes";
  readonly title: string;
}

/** Checks a picture before anything is drawn.
 *  @throws RangeError naming argument, rule and value */
export function checkFoundPoints({ data, shape, points, joined }: FoundPointsPicture): void {
  checkStill({ data, shape });
  points.forEach((point, i) => {
    if (!point.every(Number.isFinite)) throw new RangeError(`points[${i}] must be finite, got ${point}`);
  });
  if (joined === "pairs" && points.length % 2 !== 0)
    throw new RangeError(`points must be in pairs, got ${points.length}`);
}
