/** A symmetric matrix that is zero beyond `bandwidth` off the diagonal; element (i, j), j <= i <= j + bandwidth,
 *  stands at data[i * (bandwidth + 1) + (i - j)]. */
export interface BandedMatrix {
  readonly size: number;
  readonly bandwidth: number;
  readonly data: Float64Array;
}

export function bandedZeros(size: number, bandwidth: number): BandedMatrix {
  const width = Math.max(0, Math.min(bandwidth, size - 1));
  return { size, bandwidth: width, data: new Float64Array(size * (width + 1)) };
}

export function bandedDiagonal(values: ArrayLike<number>): BandedMatrix {
  return { size: values.length, bandwidth: 0, data: Float64Array.from(values) };
}

export function bandedDiagonalOf({ size, bandwidth, data }: BandedMatrix): Float64Array {
  const diagonal = new Float64Array(size);
  for (let i = 0, at = 0; i < size; i++, at += bandwidth + 1) diagonal[i] = data[at];
  return diagonal;
}

/** matrix · vector, shape (N,). */
export function bandedTimes(
  { size, bandwidth, data }: BandedMatrix,
  vector: ArrayLike<number>,
): Float64Array {
  const stride = bandwidth + 1;
  const product = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    product[i] += data[i * stride] * vector[i];
    const reach = Math.min(bandwidth, i);
    for (let k = 1; k <= reach; k++) {
      const value = data[i * stride + k];
      product[i] += value * vector[i - k];
      product[i - k] += value * vector[i];
    }
  }
  return product;
}

/** Cholesky factor L of a symmetric positive definite banded matrix, in the same layout, or null where the
 *  matrix is not positive definite. */
export function bandedCholesky({ size, bandwidth, data }: BandedMatrix): BandedMatrix | null {
  const stride = bandwidth + 1;
  const factor = data.slice();
  for (let i = 0; i < size; i++) {
    const first = Math.max(0, i - bandwidth);
    for (let j = first; j <= i; j++) {
      let sum = factor[i * stride + (i - j)];
      for (let k = Math.max(first, j - bandwidth); k < j; k++)
        sum -= factor[i * stride + (i - k)] * factor[j * stride + (j - k)];
      if (j < i) factor[i * stride + (i - j)] = sum / factor[j * stride];
      else if (sum > 1e-14 * Math.abs(data[i * stride])) factor[i * stride] = Math.sqrt(sum);
      else return null;
    }
  }
  return { size, bandwidth, data: factor };
}

/** Solves L Lᵀ z = right for the factor L of bandedCholesky. */
export function bandedSolve({ size, bandwidth, data }: BandedMatrix, right: ArrayLike<number>): Float64Array {
  const stride = bandwidth + 1;
  const z = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    const reach = Math.min(bandwidth, i);
    let value = right[i];
    for (let k = 1; k <= reach; k++) value -= data[i * stride + k] * z[i - k];
    z[i] = value / data[i * stride];
  }
  for (let i = size - 1; i >= 0; i--) {
    const reach = Math.min(bandwidth, i);
    const value = z[i] / data[i * stride];
    z[i] = value;
    for (let k = 1; k <= reach; k++) z[i - k] -= data[i * stride + k] * value;
  }
  return z;
}

/** Logarithm of the determinant of L Lᵀ. */
export function bandedLogDeterminant({ size, bandwidth, data }: BandedMatrix): number {
  let sum = 0;
  for (let i = 0; i < size; i++) sum += Math.log(data[i * (bandwidth + 1)]);
  return 2 * sum;
}
