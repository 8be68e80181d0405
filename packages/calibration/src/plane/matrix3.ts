import type { Matrix3, Point } from "../types.js";

/** H (x, y, 1)ᵀ before it is divided by its last component. */
export function homogeneous(h: Matrix3, [x, y]: Point): readonly [number, number, number] {
  return [
    h[0][0] * x + h[0][1] * y + h[0][2],
    h[1][0] * x + h[1][1] * y + h[1][2],
    h[2][0] * x + h[2][1] * y + h[2][2],
  ];
}

/** 1 or −1: on which side of the line that goes to infinity, the horizon of a plane, a point lies. */
export function sideOf(h: Matrix3, point: Point): 1 | -1 {
  return homogeneous(h, point)[2] < 0 ? -1 : 1;
}

/** A point through a plane-to-plane map. */
export function mapPoint(h: Matrix3, point: Point): Point {
  const [u, v, w] = homogeneous(h, point);
  return [u / w, v / w];
}

export function multiply(a: Matrix3, b: Matrix3): Matrix3 {
  const entry = (i: number, j: number) => a[i][0] * b[0][j] + a[i][1] * b[1][j] + a[i][2] * b[2][j];
  return matrixOf((i, j) => entry(i, j));
}

/** The inverse up to a factor: the adjugate. */
export function adjugate(m: Matrix3): Matrix3 {
  const [[a, b, c], [d, e, f], [g, h, i]] = m;
  return [
    [e * i - f * h, c * h - b * i, b * f - c * e],
    [f * g - d * i, a * i - c * g, c * d - a * f],
    [d * h - e * g, b * g - a * h, a * e - b * d],
  ];
}

export function matrixOf(entry: (row: number, column: number) => number): Matrix3 {
  const row = (i: number) => [entry(i, 0), entry(i, 1), entry(i, 2)] as const;
  return [row(0), row(1), row(2)];
}
