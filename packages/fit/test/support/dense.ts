import { Matrix } from "ml-matrix";
import type { BandedMatrix, Information } from "../../src/index.js";

/** The matrix that a banded one stands for, written out. */
export function denseOf({ size, bandwidth, data }: BandedMatrix): Matrix {
  const dense = Matrix.zeros(size, size);
  for (let i = 0; i < size; i++)
    for (let j = Math.max(0, i - bandwidth); j <= i; j++) {
      dense.set(i, j, data[i * (bandwidth + 1) + (i - j)]);
      dense.set(j, i, dense.get(i, j));
    }
  return dense;
}

/** banded − lost · lostᵀ, written out. */
export function denseInformation({ banded, lost }: Information): Matrix {
  const dense = denseOf(banded);
  if (!lost) return dense;
  const column = Matrix.columnVector(Array.from(lost));
  return dense.sub(column.mmul(column.transpose()));
}

/** τ² ρ^|xᵢ − xⱼ| */
export function wanderCovariance(x: readonly number[], tau: number, correlation: number): Matrix {
  return new Matrix(x.map((a) => x.map((b) => tau ** 2 * correlation ** Math.abs(a - b))));
}

/** Generalised least-squares line: slope and its variance for a precision matrix, by the normal equations. */
export function generalisedLine(x: readonly number[], y: readonly number[], precision: Matrix) {
  const centre = x.reduce((sum, value) => sum + value, 0) / x.length;
  const design = new Matrix(x.map((value) => [1, value - centre]));
  const normal = design.transpose().mmul(precision);
  const [[a, b], [, c]] = normal.mmul(design).to2DArray();
  const [p, q] = normal.mmul(Matrix.columnVector([...y])).to1DArray();
  const determinant = a * c - b * b;
  return { slope: (a * q - b * p) / determinant, slopeVariance: a / determinant };
}
