import { Matrix, SVD } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  type Passing,
  type Relaxation,
  relaxingColumns,
} from "../../src/changing-levels/relaxing-columns.js";

const FRAMES = 60;
const BLUR = 1.4;
const SPEED = 0.9;
/** Of an edge averaged by pixels of a pixel's width. */
const WIDTH = Math.sqrt(BLUR ** 2 + 1 / 12);

const passing: Passing = {
  behindPixels: Float64Array.from({ length: FRAMES }, (_, i) => SPEED * (i - 27.3)),
  run: Float64Array.from({ length: FRAMES }, (_, i) => i / 30 - 1),
  runAtPassage: 27.3 / 30 - 1,
  blurPixels: BLUR,
  smearPixels: 0,
};
const constant: Relaxation = { aheadPixels: null, growth: 0, behindPixels: null, form: "ended" };

/** A function of the distance behind the front, blurred by brute force. */
function blurred(of: (behind: number) => number): Float64Array {
  const step = 0.01;
  return passing.behindPixels.map((behind) => {
    let sum = 0;
    let weights = 0;
    for (let d = -8 * WIDTH; d <= 8 * WIDTH; d += step) {
      const weight = Math.exp(-0.5 * (d / WIDTH) ** 2);
      sum += weight * of(behind + d);
      weights += weight;
    }
    return sum / weights;
  });
}

/** What least squares on columns leaves of samples, root of the sum of squares. */
function leftBy(columns: readonly Float64Array[], samples: Float64Array): number {
  const design = new Matrix(Array.from(samples, (_, i) => [1, ...columns.map((column) => column[i])]));
  const target = Matrix.columnVector(Array.from(samples));
  return Matrix.sub(target, design.mmul(new SVD(design).solve(target))).norm("frobenius");
}

const edge = blurred((behind) => (behind > 0 ? 1 : 0));

describe("relaxingColumns", () => {
  it("with the front's step hold a glow that ends at the front and is blurred with it", () => {
    const samples = blurred((behind) => (behind > 0 ? 1 : 0.4 * Math.exp(behind / 12)));
    const columns = relaxingColumns({ ...constant, aheadPixels: 12 }, passing);
    // brute force sums in steps of 0.01 px across the jump
    expect(leftBy([...columns, edge], samples)).toBeLessThan(0.01);
    expect(leftBy([edge], samples)).toBeGreaterThan(0.3);
  });

  it("hold a glow that the front's blurred edge covers, and its growth", () => {
    const samples = edge.map((share, i) => {
      const size = 0.4 * (1 + 0.6 * passing.run[i]);
      return share + (1 - share) * size * Math.exp(Math.min(0, passing.behindPixels[i]) / 12);
    });
    const covered = { ...constant, aheadPixels: 12, form: "covered" } as const;
    const growing = relaxingColumns({ ...covered, growth: 0.6 }, passing);
    // the pixel's width is folded into the blur, which the profile takes exactly
    expect(leftBy([...growing, edge], samples)).toBeLessThan(0.01);
    expect(leftBy([...relaxingColumns(covered, passing), edge], samples)).toBeGreaterThan(0.03);
  });

  it("hold a level behind the front that settles", () => {
    const samples = blurred((behind) => (behind > 0 ? 0.3 + 0.7 * Math.exp(-behind / 9) : 0));
    const columns = relaxingColumns({ ...constant, behindPixels: 9 }, passing);
    expect(leftBy([...columns, edge], samples)).toBeLessThan(0.01);
    expect(leftBy([edge], samples)).toBeGreaterThan(0.3);
  });

  it("are one for each length, and stay within what they fall from", () => {
    const both = { aheadPixels: 5, growth: 0.9, behindPixels: 200, form: "ended" } as const;
    expect(relaxingColumns(constant, passing)).toEqual([]);
    const columns = relaxingColumns(both, passing);
    expect(columns.length).toBe(2);
    for (const column of columns)
      for (const value of column) {
        expect(value).toBeGreaterThanOrEqual(0);
        expect(value).toBeLessThanOrEqual(1.5);
      }
  });

  it("are finite where the front is far and the length shorter than its blur", () => {
    const far = { ...passing, behindPixels: Float64Array.of(-4000, -20, 0, 20, 4000) };
    for (const form of ["ended", "covered", "bell", "tailed"] as const)
      for (const column of relaxingColumns(
        { aheadPixels: 0.2, growth: -1, behindPixels: 0.2, form },
        {
          ...far,
          run: Float64Array.of(-1, -0.5, 0, 0.5, 1),
          runAtPassage: 0,
        },
      ))
        for (const value of column) expect(Number.isFinite(value)).toBe(true);
  });
});
