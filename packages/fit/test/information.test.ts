import { determinant, inverse, Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  addWanderPrecision,
  type BandedMatrix,
  bandedDiagonal,
  bandedDiagonalOf,
  bandedZeros,
  factorInformation,
  type Information,
  informationTimes,
} from "../src/index.js";
import { denseInformation, denseOf, wanderCovariance } from "./support/dense.js";
import { expectRelative } from "./support/expect-close.js";
import { seededNormal, seededUniform } from "./support/seeded-noise.js";

/** L Lᵀ of a random lower banded L with a diagonal of 1..2: positive definite, condition number below 1e5. */
function randomBanded(size: number, bandwidth: number, seed: number): BandedMatrix {
  const uniform = seededUniform(seed);
  const lower = Matrix.zeros(size, size);
  for (let i = 0; i < size; i++)
    for (let j = Math.max(0, i - bandwidth); j <= i; j++)
      lower.set(i, j, i === j ? 1 + uniform() : uniform() - 0.5);
  const dense = lower.mmul(lower.transpose());
  const banded = bandedZeros(size, bandwidth);
  for (let i = 0; i < size; i++)
    for (let k = 0; k <= Math.min(i, banded.bandwidth); k++)
      banded.data[i * (banded.bandwidth + 1) + k] = dense.get(i, i - k);
  return banded;
}

/** A shared unknown that takes `share` of what one direction is known by. */
function randomInformation(size: number, bandwidth: number, seed: number, share: number): Information {
  const banded = randomBanded(size, bandwidth, seed);
  if (share === 0) return { banded, lost: null };
  const normal = seededNormal(seed + 1000);
  const direction = Array.from({ length: size }, normal);
  const column = Matrix.columnVector(direction);
  const size2 = column
    .transpose()
    .mmul(solve(denseOf(banded), column))
    .get(0, 0);
  return { banded, lost: Float64Array.from(direction, (value) => value * Math.sqrt(share / size2)) };
}

/** Condition number (below 1e5) times rounding. */
const TOLERANCE = 1e-10;

describe("a banded information matrix", () => {
  const cases = [
    [1, 0, 0],
    [1, 3, 0.5],
    [7, 0, 0],
    [7, 2, 0],
    [12, 1, 0.9],
    [25, 4, 0],
    [25, 4, 0.5],
    [25, 4, 0.99],
    [8, 20, 0.3],
  ];
  it.each(cases)(
    "of %i points, bandwidth %i, %f of one direction lost, agrees with the dense one",
    (...of) => {
      const [size, bandwidth, share] = of;
      const information = randomInformation(size, bandwidth, 10 * size + bandwidth, share);
      const dense = denseInformation(information);
      const normal = seededNormal(size);
      const vector = Array.from({ length: size }, normal);

      const product = dense.mmul(Matrix.columnVector(vector)).to1DArray();
      informationTimes(information, vector).forEach((value, i) => {
        expect(Math.abs(value - product[i])).toBeLessThan(TOLERANCE);
      });
      const factor = factorInformation(information);
      const solution = solve(dense, Matrix.columnVector(vector)).to1DArray();
      const largest = Math.max(...solution.map(Math.abs));
      factor!.solve(vector).forEach((value, i) => {
        expect(Math.abs(value - solution[i]) / largest).toBeLessThan(TOLERANCE);
      });
      expectRelative(Math.exp(factor!.logDeterminant), determinant(dense), TOLERANCE);
    },
  );

  it("is not factorised where it is not positive definite", () => {
    expect(factorInformation({ banded: bandedDiagonal([1, 0, 1]), lost: null })).toBeNull();
    expect(factorInformation({ banded: bandedDiagonal([1, -1, 1]), lost: null })).toBeNull();
    expect(factorInformation({ banded: bandedDiagonal([1, Number.NaN]), lost: null })).toBeNull();
    const touching = bandedZeros(2, 1);
    touching.data.set([1, 0, 1, 1]);
    expect(factorInformation({ banded: touching, lost: null })).toBeNull();
    const all = Float64Array.of(1, 0);
    expect(factorInformation({ banded: bandedDiagonal([1, 1]), lost: all })).toBeNull();
    expect(factorInformation({ banded: bandedDiagonal([1, 1]), lost: all.map((v) => 2 * v) })).toBeNull();
  });

  it("gives back the diagonal it was made of", () => {
    expect(Array.from(bandedDiagonalOf(bandedDiagonal([3, 1, 4])))).toEqual([3, 1, 4]);
    const banded = randomBanded(6, 2, 1);
    expect(Array.from(bandedDiagonalOf(banded))).toEqual(denseOf(banded).diagonal());
  });
});

describe("addWanderPrecision", () => {
  const gaps = [-4, -3, 0, 1, 2, 7, 8, 20];

  it.each([
    [0.5, 0.05],
    [1, 0.5],
    [3, 0.95],
  ])("adds the inverse of τ² ρ^|Δx| across gaps (τ = %f, ρ = %f)", (tau, correlation) => {
    const information = randomInformation(gaps.length, 3, 5, 0.4);
    const { sum, precision, logDeterminantQ } = addWanderPrecision(information, gaps, tau, correlation);
    const q = inverse(wanderCovariance(gaps, tau, correlation));
    const expected = Matrix.add(denseInformation(information), q);
    const rest = Matrix.sub(denseInformation(sum), expected);
    expect(rest.abs().max()).toBeLessThan(TOLERANCE * expected.max());
    expect(Matrix.sub(denseOf(precision), q).abs().max()).toBeLessThan(TOLERANCE * q.max());
    expectRelative(Math.exp(logDeterminantQ), determinant(q), TOLERANCE);
  });

  it("leaves the matrix it is given alone", () => {
    const information = randomInformation(gaps.length, 3, 6, 0.4);
    const before = denseInformation(information).to2DArray();
    addWanderPrecision(information, gaps, 1, 0.5);
    expect(denseInformation(information).to2DArray()).toEqual(before);
  });
});
