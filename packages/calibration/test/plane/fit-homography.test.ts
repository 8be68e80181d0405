import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import type { Correspondence } from "../../src/plane/check-points.js";
import { fitHomography } from "../../src/plane/fit-homography.js";
import { mapPoint } from "../../src/plane/matrix3.js";
import { propagated } from "../../src/plane/propagate.js";
import type { Point } from "../../src/types.js";
import { board, furthest, oblique, seenPoints } from "../cameras.js";

const corners: Correspondence[] = [
  { pixel: [10, 20], plane: [0, 0] },
  { pixel: [210, 30], plane: [0.2, 0] },
  { pixel: [190, 160], plane: [0.2, 0.1] },
  { pixel: [20, 150], plane: [0, 0.1] },
];

describe("fitHomography", () => {
  it("maps every pixel of a camera of known pose to the plane to 1e-9 m", () => {
    const points = seenPoints(oblique, board);
    const { map, rmsPixels } = fitHomography(points);
    const found = points.map(({ pixel }) => mapPoint(map.matrix, pixel));
    expect(
      furthest(
        found,
        points.map(({ plane }) => plane),
      ),
    ).toBeLessThan(1e-9);
    expect(rmsPixels).toBeLessThan(1e-9);
  });

  it("goes through four points exactly", () => {
    const { map, degreesOfFreedom } = fitHomography(corners, { pointingPixels: 0.5 });
    for (const { pixel, plane } of corners)
      expect(furthest([mapPoint(map.matrix, pixel)], [plane])).toBeLessThan(1e-12);
    expect(degreesOfFreedom).toBe(0);
  });

  it("states the covariance that repeated pointing shows, within 10 %", () => {
    const normal = seededNormal(11);
    const points = seenPoints(oblique, board);
    const probe: Point = [80, 60];
    const reference = fitHomography(points, { pointingPixels: 0.1 });
    const coordinate = (of: 0 | 1) => (entries: readonly number[]) => {
      const [a, b, c, d, e, f, g, h, i] = entries;
      return mapPoint(
        [
          [a, b, c],
          [d, e, f],
          [g, h, i],
        ],
        probe,
      )[of];
    };
    const drawn = Array.from({ length: 600 }, () => {
      const moved = points.map(({ plane, pixel: [x, y] }) => ({
        plane,
        pixel: [x + 0.1 * normal(), y + 0.1 * normal()] as const,
      }));
      return mapPoint(fitHomography(moved).map.matrix, probe);
    });
    for (const k of [0, 1] as const) {
      const mean = drawn.reduce((sum, p) => sum + p[k], 0) / drawn.length;
      const spread = Math.sqrt(drawn.reduce((sum, p) => sum + (p[k] - mean) ** 2, 0) / (drawn.length - 1));
      const stated = propagated(coordinate(k), reference.map.matrix.flat(), reference.map.covariance);
      // 600 draws tell a standard deviation to 3 %
      expect(Math.abs(spread / stated - 1)).toBeLessThan(0.1);
    }
  });

  it("takes the residuals for the uncertainty of pointing where they say more", () => {
    const normal = seededNormal(12);
    const fit = fitHomography(
      seenPoints(oblique, board, () => 0.3 * normal()),
      { pointingPixels: 0.01 },
    );
    // 100 degrees of freedom tell a standard deviation to 7 %
    expect(Math.abs(fit.pointingPixels / 0.3 - 1)).toBeLessThan(0.21);
    expect(fitHomography(seenPoints(oblique, board), { pointingPixels: 0.5 }).pointingPixels).toBe(0.5);
  });

  it.each<[string, readonly Correspondence[], string]>([
    ["three points", corners.slice(0, 3), "too-few-points"],
    ["a point named twice", [...corners, corners[1]], "coincident-points"],
    [
      "points in a line",
      corners.map((one, k) => ({ ...one, pixel: [50 * k, 20 * k] as const })),
      "points-in-line",
    ],
    ["three of four in a line", corners.with(3, { pixel: [110, 25], plane: [0.1, 0] }), "points-in-line"],
    ["a point that is none", corners.with(0, { pixel: [Number.NaN, 1], plane: [0, 0] }), "invalid-value"],
  ])("%s: named", (_, points, code) => {
    expect(() => fitHomography(points, { pointingPixels: 1 })).toThrow(expect.objectContaining({ code }));
  });

  it("asks for the uncertainty of pointing where four points leave no residuals", () => {
    expect(() => fitHomography(corners)).toThrow("state the uncertainty of pointing");
  });
});
