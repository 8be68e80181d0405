import {
  type BandedMatrix,
  bandedCholesky,
  bandedDiagonalOf,
  bandedLogDeterminant,
  bandedSolve,
  bandedTimes,
} from "./banded.js";

/** Information matrix (inverse covariance) of N readings: banded, less what one unknown that all of them share
 *  takes away: W = banded − lost · lostᵀ. */
export interface Information {
  /** shape (N, N) */
  readonly banded: BandedMatrix;
  /** shape (N,), or null where nothing is shared */
  readonly lost: Float64Array | null;
}

/** W · vector, shape (N,). */
export function informationTimes({ banded, lost }: Information, vector: ArrayLike<number>): Float64Array {
  const product = bandedTimes(banded, vector);
  if (!lost) return product;
  const along = dot(lost, vector);
  for (let i = 0; i < product.length; i++) product[i] -= along * lost[i];
  return product;
}

/** A factorised information matrix. */
export interface FactoredInformation {
  /** W⁻¹ · right, shape (N,). */
  solve(right: ArrayLike<number>): Float64Array;
  /** log |W| */
  readonly logDeterminant: number;
}

/** Cholesky factor of the banded part, the rest by the Sherman-Morrison formula.
 *  @returns null where the matrix is not positive definite */
export function factorInformation({ banded, lost }: Information): FactoredInformation | null {
  const factor = bandedCholesky(banded);
  if (!factor) return null;
  const logDeterminant = bandedLogDeterminant(factor);
  if (!lost) return { solve: (right) => bandedSolve(factor, right), logDeterminant };
  const spread = bandedSolve(factor, lost);
  const left = 1 - dot(lost, spread);
  if (!(left > 1e-12)) return null;
  return {
    solve(right) {
      const plain = bandedSolve(factor, right);
      const share = dot(lost, plain) / left;
      for (let i = 0; i < plain.length; i++) plain[i] += share * spread[i];
      return plain;
    },
    logDeterminant: logDeterminant + Math.log(left),
  };
}

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** What is known of one reading, levelled over all: 1/meanDiagonal is a typical variance. */
export function meanDiagonal(information: Information): number {
  return (
    bandedDiagonalOf(information.banded).reduce((sum, value) => sum + value, 0) / information.banded.size
  );
}
