import type { Point } from "../types.js";
import type { Field } from "./field.js";

export interface Samples {
  /** From the middle, px. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly value: Float64Array;
  readonly radiusPixels: number;
  /** Standard deviation of their rounding, 0 where it was not looked at. */
  readonly rounding: number;
}

/** Radius up to which every sample is taken, px. */
const DENSE = 14;

/** The samples within a circle; of a large one every second, third, … in either direction. */
export function samplesAround(
  { data, rows, columns, rounding = 0 }: Field,
  [cx, cy]: Point,
  radiusPixels: number,
): Samples {
  const stride = Math.max(1, Math.floor(radiusPixels / DENSE));
  const [x, y, value]: number[][] = [[], [], []];
  const last = (end: number, centre: number) => Math.min(end - 1, centre + radiusPixels);
  for (let r = Math.max(0, Math.ceil(cy - radiusPixels)); r <= last(rows, cy); r += stride)
    for (let c = Math.max(0, Math.ceil(cx - radiusPixels)); c <= last(columns, cx); c += stride)
      if (Math.hypot(c - cx, r - cy) <= radiusPixels) {
        x.push(c - cx);
        y.push(r - cy);
        value.push(data[r * columns + c]);
      }
  const [xs, ys, values] = [x, y, value].map((of) => Float64Array.from(of));
  return { x: xs, y: ys, value: values, radiusPixels, rounding };
}
