import { describe, expect, it } from "vitest";
import { project } from "../../../../scripts/calibration/render-target.js";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { lengthsAlong } from "../../src/plane/along-path.js";
import { fitLens } from "../../src/plane/fit-lens.js";
import { fitPlane } from "../../src/plane/fit-plane.js";
import { lengthUncertainty } from "../../src/plane/length-uncertainty.js";
import { similarityUncertainty } from "../../src/plane/similarity-uncertainty.js";
import type { Point } from "../../src/types.js";
import { board, oblique, seenPoints, square } from "../cameras.js";

const relative = (value: number, expected: number) => Math.abs(value / expected - 1);
const bent = { ...oblique, k1: -0.2, k2: 0.05 };
const path: [Point, Point] = [project(oblique, 0, 0.02), project(oblique, 0.08, 0.03)];

describe("lengthsAlong", () => {
  const { map } = fitPlane(seenPoints(oblique, board), null, { pointingPixels: 0.05 });
  const lengths = lengthsAlong({ matrix: map.matrix }, path);

  it("gives the length in an oblique plane, and every place on the way", () => {
    expect(relative(lengths.lengthMetres, Math.hypot(0.08, 0.01))).toBeLessThan(1e-9);
    const [x, y] = project(oblique, 0.02, 0.0225);
    const pixels = Math.hypot(x - path[0][0], y - path[0][1]);
    expect(relative(lengths.metresAt(pixels), Math.hypot(0.08, 0.01) / 4)).toBeLessThan(1e-9);
    // Between pixels the inverse is a straight line: some 1e-5 px
    expect(Math.abs(lengths.pixelsAt(lengths.metresAt(pixels)) - pixels)).toBeLessThan(1e-4);
    expect(lengths.scale.least).toBeLessThan(lengths.scale.mean);
    expect(lengths.scale.greatest).toBeGreaterThan(lengths.scale.mean);
  });

  it("goes on beyond the ends of the path as there", () => {
    const end = Math.hypot(path[1][0] - path[0][0], path[1][1] - path[0][1]);
    expect(lengths.metresAt(-2)).toBeLessThan(0);
    expect(lengths.metresAt(end + 1) - lengths.metresAt(end)).toBeGreaterThan(0);
  });

  it("measures along the bend where a lens bends the path", () => {
    const { lens } = fitLens([seenPoints(bent, board)], [239.5, 159.5], 900);
    const { map: through } = fitPlane(seenPoints(bent, board), lens, { pointingPixels: 0.05 });
    const ends: [Point, Point] = [project(bent, 0, 0.02), project(bent, 0.08, 0.03)];
    const bend = lengthsAlong({ matrix: through.matrix, lens }, ends);
    // The straight line between the ends is the shortest; what is straight in the picture is longer by little.
    expect(bend.lengthMetres / Math.hypot(0.08, 0.01) - 1).toBeGreaterThan(0);
    expect(bend.lengthMetres / Math.hypot(0.08, 0.01) - 1).toBeLessThan(1e-3);
  });

  it("refuses a path that lies wholly behind the horizon, whatever the sign of the map's largest entry", () => {
    // The homography of a plane that is seen below y = 100 px: its horizon is that row.
    const pixels: Point[] = [
      [100, 200],
      [300, 210],
      [290, 400],
      [110, 390],
    ];
    const seen = pixels.map(([x, y]) => {
      const pixel: Point = [x, y];
      const plane: Point = [x / (y - 100), -50 / (y - 100)];
      return { pixel, plane };
    });
    for (const turn of [1, -1]) {
      const points = seen.map(({ pixel, plane }) => ({ pixel, plane: [turn * plane[0], plane[1]] as Point }));
      const { map } = fitPlane(points, null, { pointingPixels: 0.05 });
      const along = (y: number) =>
        lengthsAlong({ matrix: map.matrix }, [
          [100, y],
          [300, y],
        ]);
      expect(relative(along(200).lengthMetres, 2)).toBeLessThan(1e-9);
      expect(() => along(50)).toThrow(expect.objectContaining({ code: "beyond-horizon" }));
    }
  });

  it("refuses a path across the horizon of the plane, and one of no length", () => {
    const tilted = {
      matrix: [
        [1, 0, 0],
        [0, 1, 0],
        [0, -0.01, 1],
      ],
    } as const;
    expect(() =>
      lengthsAlong(tilted, [
        [0, 50],
        [0, 150],
      ]),
    ).toThrow(expect.objectContaining({ code: "beyond-horizon" }));
    expect(() =>
      lengthsAlong(tilted, [
        [5, 5],
        [5, 5],
      ]),
    ).toThrow(RangeError);
  });
});

describe("lengthUncertainty", () => {
  it("is what repeated pointing shows, within a quarter, split into pointing, obliquity and lens", () => {
    const normal = seededNormal(21);
    const points = () => seenPoints(bent, board, () => 0.05 * normal());
    const through = () => {
      const seen = points();
      const { lens } = fitLens([seen], [239.5, 159.5], 900);
      return { seen, lens, map: fitPlane(seen, lens, { pointingPixels: 0.05 }).map };
    };
    const drawn = Array.from({ length: 150 }, () => {
      const { lens, map } = through();
      return lengthsAlong({ matrix: map.matrix, lens }, path).lengthMetres;
    });
    const mean = drawn.reduce((sum, value) => sum + value, 0) / drawn.length;
    const spread = Math.sqrt(drawn.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (drawn.length - 1));
    const { seen, lens, map } = through();
    const parts = lengthUncertainty(map, lens, path, similarityUncertainty(seen, 0.05));
    const stated = mean * Math.hypot(parts.pointing, parts.obliquity, parts.lens!);
    // 150 draws tell a standard deviation to 6 %, and the stated one follows its own draw of 0.05 px to 7 %
    expect(relative(spread, stated)).toBeLessThan(0.25);
    expect(parts.obliquity).toBeGreaterThan(0);
  });

  it("calls the share of a similarity pointing, and has no lens without one", () => {
    const points = seenPoints(square, board);
    const { map, pointingPixels } = fitPlane(points, null, { pointingPixels: 0.05 });
    const parts = lengthUncertainty(map, null, path, similarityUncertainty(points, pointingPixels));
    expect(parts.lens).toBeNull();
    expect(relative(parts.pointing, similarityUncertainty(points, 0.05))).toBeLessThan(1e-9);
  });
});
