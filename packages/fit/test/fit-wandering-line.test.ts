import { inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  bandedDiagonal,
  bandedZeros,
  fitPolynomial,
  fitWanderingLine,
  type Information,
  studentFactor,
} from "../src/index.js";
import { denseInformation, generalisedLine, wanderCovariance } from "./support/dense.js";
import { expectRelative } from "./support/expect-close.js";
import { autoregressive, seededNormal } from "./support/seeded-noise.js";

const count = (n: number) => Array.from({ length: n }, (_, i) => i);
const independent = (standardUncertainty: readonly number[]): Information => ({
  banded: bandedDiagonal(standardUncertainty.map((u) => 1 / u ** 2)),
  lost: null,
});

/** Neighbours tied, and one unknown shared by all. */
function tied(size: number): Information {
  const banded = bandedZeros(size, 2);
  for (let i = 0; i < size; i++) banded.data.set([4 + (i % 3), 1, -0.5], 3 * i);
  return {
    banded,
    lost: Float64Array.from({ length: size }, (_, i) => (1 + (i % 5) / 10) / Math.sqrt(size)),
  };
}

describe("fitWanderingLine", () => {
  it.each([3, 10, 19, 20, 60])("finds an exact line through %i points, with gaps", (n) => {
    const x = count(n).map((i) => i + 3 * Math.floor(i / 4) - 12);
    const y = x.map((v) => 200 - 0.75 * v);
    for (const information of [independent(x.map((_, i) => 0.1 + (i % 3))), tied(n)]) {
      const fit = fitWanderingLine(x, y, information);
      expectRelative(fit.slope, -0.75, 1e-12);
      expectRelative(fit.intercept, 200, 1e-12);
      expect(Math.max(...fit.residuals.map(Math.abs))).toBeLessThan(1e-10);
      expect(fit.degreesOfFreedom).toBe(n - 2);
      expect(fit.readingShare).toBe(1);
    }
  });

  describe("below 20 points", () => {
    it.each([3, 5, 12, 19])("is weighted least squares with three times its variance (N = %i)", (n) => {
      const normal = seededNormal(n);
      const x = count(n).map((i) => i + (i > n / 2 ? 4 : 0));
      const u = x.map((_, i) => 0.2 + 0.1 * (i % 4));
      const y = x.map((v, i) => 4 + 2 * v + 3 * u[i] * normal());
      const fit = fitWanderingLine(x, y, independent(u));
      const plain = fitPolynomial(x, y, 1, { standardUncertainty: u });
      const scatter = plain.chiSquared / (n - 2);
      expect(fit.rule).toBe("few-points");
      expectRelative(fit.slope, plain.coefficients[1], 1e-12);
      expectRelative(fit.intercept, plain.coefficients[0], 1e-12);
      expectRelative(fit.slopeStandardUncertainty, Math.sqrt(3 * scatter * plain.covariance[1][1]), 1e-12);
      expect(fit.degreesOfFreedom).toBe(n - 2);
      expectRelative(fit.readingShare, Math.min(1, 1 / (3 * scatter)), 1e-12);
      fit.residuals.forEach((r, i) => {
        expect(Math.abs(r - plain.residuals[i])).toBeLessThan(1e-12);
      });
    });

    it.each([3, 5, 12])("is no surer than its readings, however small the residuals (N = %i)", (n) => {
      const x = count(n);
      const u = x.map((_, i) => 0.2 + 0.1 * (i % 4));
      const y = x.map((v, i) => 4 + 2 * v + 0.01 * u[i] * (i % 2));
      const fit = fitWanderingLine(x, y, independent(u));
      const plain = fitPolynomial(x, y, 1, { standardUncertainty: u });
      expect(plain.chiSquared / (n - 2)).toBeLessThan(1 / 3);
      expectRelative(fit.slopeStandardUncertainty, Math.sqrt(plain.covariance[1][1]), 1e-12);
      expect(fit.readingShare).toBe(1);
    });

    it("is generalised least squares where readings are tied", () => {
      const normal = seededNormal(8);
      const x = count(15);
      const y = x.map((v) => 3 * v + normal());
      const expected = generalisedLine(x, y, denseInformation(tied(15)));
      expectRelative(fitWanderingLine(x, y, tied(15)).slope, expected.slope, 1e-12);
    });

    it("reports no wander where the readings scatter as little as they say, and the excess where more", () => {
      const x = [0, 1, 2, 3];
      const y = [1, -1, -1, 1];
      const fitWith = (u: number) => fitWanderingLine(x, y, independent(x.map(() => u)));
      expect(fitWith(2).wander.standardDeviation).toBe(0);
      // residuals ±1, two degrees of freedom: scatter 2/u² and excess 2 − u²
      expectRelative(fitWith(0.5).wander.standardDeviation, Math.sqrt(1.75), 1e-12);
    });

    it("keeps the digits where one reading is 1e8 times as certain as the others", () => {
      const x = count(10);
      const y = x.map((v) => v + (v % 2 ? 1e-3 : -1e-3));
      const others = x.slice(0, 9);
      const slope =
        others.reduce((sum, v) => sum + (v - 9) * (y[v] - y[9]), 0) /
        others.reduce((sum, v) => sum + (v - 9) ** 2, 0);
      const fit = fitWanderingLine(x, y, independent(x.map((v) => (v === 9 ? 1e-8 : 1))));
      expectRelative(fit.slope, slope, 1e-10);
    });
  });

  const normal = seededNormal(11);
  // So many that a wander which returns is told from one which never does.
  const x = count(160).map((i) => i + (i > 30 ? 5 : 0));
  const wander = autoregressive(166, 1, 0.8, normal);
  const u = x.map((_, i) => 0.3 + 0.1 * (i % 3));
  const y = x.map((v, i) => 10 + 1.25 * v + wander[v] + u[i] * normal());
  const fit = fitWanderingLine(x, y, independent(u));

  it("lies by the generalised least-squares line of the wander it reports", () => {
    const { standardDeviation, correlation } = fit.wander;
    const covariance = Matrix.add(
      Matrix.diag(u.map((value) => value ** 2)),
      wanderCovariance(x, standardDeviation, correlation),
    );
    const expected = generalisedLine(x, y, inverse(covariance));
    // averaged over other wanders too: half a standard uncertainty, and a factor of two in it
    expect(Math.abs(fit.slope - expected.slope)).toBeLessThan(0.5 * Math.sqrt(expected.slopeVariance));
    const ratio = fit.slopeStandardUncertainty / Math.sqrt(expected.slopeVariance);
    expect(ratio).toBeGreaterThan(0.7);
    expect(ratio).toBeLessThan(2);
    expect(fit.rule).toBe("wander");
  });

  it("reports the share of the variance of the slope that the readings explain", () => {
    const plain = fitPolynomial(x, y, 1, { standardUncertainty: u });
    expectRelative(fit.readingShare, plain.covariance[1][1] / fit.slopeStandardUncertainty ** 2, 1e-10);
    expect(fit.readingShare).toBeLessThan(0.5);
  });

  it("gives white noise of the stated size the interval of weighted least squares within a tenth", () => {
    // many points, so that hardly any wander is as likely as none
    const white = seededNormal(12);
    const many = count(400);
    const noisy = many.map((v) => 0.5 * v + white());
    const found = fitWanderingLine(many, noisy, independent(many.map(() => 1)));
    const plain = fitPolynomial(many, noisy, 1, { standardUncertainty: many.map(() => 1) });
    const sigma = Math.sqrt(plain.covariance[1][1]);
    expect(Math.abs(found.slope - plain.coefficients[1])).toBeLessThan(0.1 * sigma);
    expectRelative(found.slopeStandardUncertainty * studentFactor(398), 1.96 * sigma, 0.1);
    expect(found.wander.standardDeviation).toBe(0);
  });

  it("follows the unit of y, flips in a mirror and moves with a shift", () => {
    const scaled = fitWanderingLine(
      x,
      y.map((v) => -1e-3 * v),
      independent(u.map((value) => 1e-3 * value)),
    );
    expectRelative(scaled.slope, -1e-3 * fit.slope, 1e-9);
    expectRelative(scaled.slopeStandardUncertainty, 1e-3 * fit.slopeStandardUncertainty, 1e-6);
    expectRelative(scaled.wander.standardDeviation, 1e-3 * fit.wander.standardDeviation, 1e-9);
    const shifted = fitWanderingLine(
      x.map((v) => v + 1e6),
      y.map((v) => v + 1e5),
      independent(u),
    );
    expectRelative(shifted.slope, fit.slope, 1e-9);
    expectRelative(shifted.slopeStandardUncertainty, fit.slopeStandardUncertainty, 1e-6);
    const backwards = fitWanderingLine(
      x.map((v) => -v).reverse(),
      [...y].reverse(),
      independent([...u].reverse()),
    );
    expectRelative(backwards.slope, -fit.slope, 1e-9);
    expectRelative(backwards.slopeStandardUncertainty, fit.slopeStandardUncertainty, 1e-6);
  });

  it("gives the same answer for a reading noise of 1e-4 to 1e-10 of the wander", () => {
    // the first grid of wanders hangs on the reading noise; laid finer where they are likely it is good to 4 %
    const wide = count(60).map((i) => 3 * i + wander[i]);
    const [first, ...others] = [1e-4, 1e-6, 1e-8, 1e-10].map((noise) =>
      fitWanderingLine(count(60), wide, independent(count(60).map(() => noise))),
    );
    for (const other of others) {
      expectRelative(other.slopeStandardUncertainty, first.slopeStandardUncertainty, 0.05);
      expect(Math.abs(other.slope - first.slope)).toBeLessThan(0.05 * first.slopeStandardUncertainty);
    }
  });

  it("does not mistake a gap for a shift: without ten frames the slope stays within its uncertainty", () => {
    const kept = x.map((_, i) => i).filter((i) => i < 20 || i >= 30);
    const gapped = fitWanderingLine(
      kept.map((i) => x[i]),
      kept.map((i) => y[i]),
      independent(kept.map((i) => u[i])),
    );
    expect(Math.abs(gapped.slope - fit.slope)).toBeLessThan(fit.slopeStandardUncertainty);
  });

  const ones = independent([1, 1, 1]);
  it("weighs positions by other information where that is given, and is then less sure", () => {
    const x = count(80);
    const wander = autoregressive(80, 3, 0.3, seededNormal(11));
    const y = x.map((v, i) => 5 + 0.5 * v + wander[i] + (i < 60 ? 0 : 15));
    const equal = independent(x.map(() => 1));
    const firstOnly = independent(x.map((v) => (v < 60 ? 1 : 1e6)));
    const all = fitWanderingLine(x, y, equal);
    const weighed = fitWanderingLine(x, y, equal, firstOnly);
    const first = fitWanderingLine(x.slice(0, 60), y.slice(0, 60), independent(x.slice(0, 60).map(() => 1)));
    expect(all.slope - first.slope).toBeGreaterThan(3 * first.slopeStandardUncertainty);
    expect(Math.abs(weighed.slope - first.slope)).toBeLessThan(0.3 * first.slopeStandardUncertainty);
    expect(weighed.slopeStandardUncertainty).toBeGreaterThan(all.slopeStandardUncertainty);
    expect(fitWanderingLine(x, y, equal, equal)).toEqual(all);
  });

  const bad: [string, number[], number[], Information, string][] = [
    [
      "lengths that differ",
      [1, 2, 3],
      [1, 2],
      ones,
      "y, information and weighting must have the length of x, 3, got 2, 3, 3",
    ],
    [
      "information of another size",
      [1, 2, 3],
      [1, 2, 3],
      independent([1, 1]),
      "y, information and weighting must have the length of x, 3, got 3, 2, 2",
    ],
    ["two points", [1, 2], [1, 2], independent([1, 1]), "x must hold at least 3 points, got 2"],
    ["a repeated frame", [1, 2, 2], [1, 2, 3], ones, "x[2] must be > x[1], 2, got 2"],
    ["frames in disorder", [1, 3, 2], [1, 2, 3], ones, "x[2] must be > x[1], 3, got 2"],
    ["x not a number", [Number.NaN, 2, 3], [1, 2, 3], ones, "x[0] must be finite, got NaN"],
    ["y infinite", [1, 2, 3], [1, 2, 1 / 0], ones, "y[2] must be finite, got Infinity"],
    [
      "information about one point only",
      [1, 2, 3],
      [1, 2, 3],
      { banded: bandedDiagonal([0, 5, 0]), lost: null },
      "information must determine a line beyond rounding, got the diagonal 0,5,0",
    ],
    [
      "negative information",
      [1, 2, 3],
      [1, 2, 3],
      { banded: bandedDiagonal([-1, -1, -1]), lost: null },
      "information must determine a line beyond rounding, got the diagonal -1,-1,-1",
    ],
  ];
  it.each(bad)("refuses %s, and says what was given", (_, badX, badY, information, message) => {
    expect(() => fitWanderingLine(badX, badY, information)).toThrow(RangeError);
    expect(() => fitWanderingLine(badX, badY, information)).toThrow(message);
  });
});
