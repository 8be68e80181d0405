import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { fitLens } from "../../src/plane/fit-lens.js";
import { distort, undistort } from "../../src/plane/lens.js";
import type { Point } from "../../src/types.js";
import { board, furthest, oblique, seenPoints, square } from "../cameras.js";

const centrePixels: Point = [239.5, 159.5];
const poses = [
  { ...square, place: [-0.04, -0.025, 0.2] as const },
  { ...oblique, place: [-0.045, -0.035, 0.22] as const },
  { ...square, turnDegrees: [-20, 15, 95] as const, place: [0.02, -0.04, 0.2] as const },
];
const bent = poses.map((camera) => ({ ...camera, k1: -0.25, k2: 0.1 }));

describe("distort and undistort", () => {
  const lens = { k1: -0.2, k2: 0.05, radiusPixels: 500, centrePixels };
  it("undo each other to 1e-10 px", () => {
    const points: Point[] = [
      [0, 0],
      [239.5, 159.5],
      [479, 10],
      [100, 319],
    ];
    expect(
      furthest(
        points.map((point) => undistort(lens, distort(lens, point))),
        points,
      ),
    ).toBeLessThan(1e-10);
  });

  it("move a point at the radius by the sum of the coefficients", () => {
    const [x, y] = distort(lens, [239.5 + 500, 159.5]);
    expect(Math.abs(x - (239.5 + 500 * 0.85))).toBeLessThan(1e-9);
    expect(y).toBe(159.5);
  });

  it("say where the polynomial shows nothing", () => {
    const strong = { ...lens, k1: -1, k2: 0 };
    expect(() => undistort(strong, [239.5 + 300, 159.5])).toThrow(
      expect.objectContaining({ code: "beyond-lens" }),
    );
  });
});

describe("fitLens", () => {
  const focal = square.focalPixels;

  it("finds k1 and k2 of closed-form cameras to 1e-6, in units of any radius", () => {
    const { lens, rmsPixels } = fitLens(
      bent.map((camera) => seenPoints(camera, board)),
      centrePixels,
      focal,
    );
    expect(Math.abs(lens.k1 + 0.25)).toBeLessThan(1e-6);
    expect(Math.abs(lens.k2 - 0.1)).toBeLessThan(1e-5);
    expect(rmsPixels).toBeLessThan(1e-6);
    const half = fitLens(
      bent.map((camera) => seenPoints(camera, board)),
      centrePixels,
      focal / 2,
    ).lens;
    expect(Math.abs(half.k1 + 0.25 / 4)).toBeLessThan(1e-6);
  });

  it("does with one picture", () => {
    const { lens } = fitLens([seenPoints(bent[0], board)], centrePixels, focal);
    expect(Math.abs(lens.k1 + 0.25)).toBeLessThan(1e-5);
  });

  it("states the covariance that repeats show: 40 fits, chi-squared of k1 and k2 within its 99 % range", () => {
    const normal = seededNormal(3);
    const chi = Array.from({ length: 40 }, () => {
      const { lens } = fitLens(
        bent.map((camera) => seenPoints(camera, board, () => 0.05 * normal())),
        centrePixels,
        focal,
      );
      const [[a, b], [, d]] = lens.covariance;
      const [e1, e2] = [lens.k1 + 0.25, lens.k2 - 0.1];
      return (d * e1 * e1 - 2 * b * e1 * e2 + a * e2 * e2) / (a * d - b * b);
    });
    const total = chi.reduce((sum, value) => sum + value, 0);
    // chi-squared with 80 degrees of freedom: 99 % lie in 51.2 to 116.3
    expect(total).toBeGreaterThan(51.2);
    expect(total).toBeLessThan(116.3);
  });

  it("refuses points that do not tell the lens", () => {
    const four = seenPoints(square, { ...board, along: 2, across: 2 });
    expect(() => fitLens([four], centrePixels, focal)).toThrow(
      expect.objectContaining({ code: "lens-not-resolved" }),
    );
  });
});
