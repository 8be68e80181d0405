import { describe, expect, it } from "vitest";
import { type Camera, expose, type Target, viewSharply } from "../../../scripts/calibration/render-target.js";
import { findGrid } from "../src/grid/find-grid.js";
import { pixelEdge } from "../src/pictures/pixel-edge.js";
import { rootMeanSquare, seenPoints, square } from "./cameras.js";
import { clear, patternOf } from "./found-grids.js";

const target: Target = { kind: "corners", along: 5, across: 4, pitch: 0.01 };
/** Of 9.3 px across. */
const spots: Target = { ...target, kind: "dots" };
/** Of squares of 18.6 px, so that corners stand at other places in their pixels each. */
const along: Camera = {
  ...square,
  columns: 120,
  rows: 100,
  focalPixels: 558,
  axisPixels: [59.5, 49.5],
  place: [-0.0203, -0.0147, 0.3],
};
const turned: Camera = { ...along, turnDegrees: [0, 0, 1.5] };
const askew: Camera = { ...along, turnDegrees: [20, -15, 12] };

const SEEDS = [1, 2, 3, 4, 5];

/** Errors of coordinates, px, and what is stated of them, in pictures with noise of 1 % of the step where nothing else is said. */
function told(camera: Camera, blur: number, aperture: number, of = target, noise = 1.7, seeds = SEEDS) {
  const { rows, columns } = camera;
  const view = viewSharply(camera, of, blur, aperture);
  const truth = seenPoints(camera, of).flatMap(({ pixel }) => pixel);
  const grids = seeds.map((seed) =>
    findGrid({ data: expose(camera, view, { ...clear, noise, seed }), rows, columns }, patternOf(of)),
  );
  const errors = grids.flatMap(({ points }) => points.flat().map((value, n) => value - truth[n]));
  const stated = rootMeanSquare(grids.map((grid) => grid.standardUncertaintyPixels));
  return { rms: rootMeanSquare(errors), stated };
}

describe("corners of a checkerboard that is blurred by less than a pixel", () => {
  it.each<[string, number, number, Camera]>([
    ["along the pixels", 0, 8, along],
    ["along the pixels", 0.2, 6, along],
    ["along the pixels", 0.3, 8, along],
    ["turned by 1.5 degrees", 0.2, 8, turned],
    ["turned by 1.5 degrees", 0.2, 6, turned],
    ["turned by 1.5 degrees", 0.45, 6, turned],
    ["turned by 1.5 degrees", 0.6, 8, turned],
    ["seen askew", 0.2, 8, askew],
    ["seen askew", 0.45, 8, askew],
  ])(
    "and seen %s lie where stated: blur %f px, pixels open on %i eighths of their sides",
    (_, blur, aperture, camera) => {
      const { rms, stated } = told(camera, blur, aperture);
      // 200 coordinates tell their rms to 5 %.
      expect(rms).toBeLessThan(1.25 * stated);
      if (blur > 0.4) expect(rms).toBeGreaterThan(0.75 * stated);
    },
  );

  it("lie within 0.005 px (rms), of which noise makes 0.004, where pixels are full squares, along them, too", () => {
    for (const blur of [0, 0.2]) expect(told(along, blur, 8).rms).toBeLessThan(0.005);
  });
});

describe("dots that are blurred by less than a pixel", () => {
  it.each<[string, number, number, Camera]>([
    ["square on", 0.2, 6, along],
    ["turned by 1.5 degrees", 0.3, 6, turned],
    ["seen askew", 0.2, 6, askew],
    ["square on", 0.5, 6, along],
  ])(
    "%s lie where stated: blur %f px, pixels open on %i eighths of their sides",
    (_, blur, aperture, camera) => {
      const { rms, stated } = told(camera, blur, aperture, spots);
      expect(rms).toBeLessThan(1.25 * stated);
      if (blur > 0.4) expect(rms).toBeGreaterThan(0.75 * stated);
    },
  );

  it("lie within 0.004 px (rms), of which noise makes 0.003, where pixels are full squares", () => {
    for (const blur of [0, 0.2]) expect(told(along, blur, 8, spots).rms).toBeLessThan(0.004);
  });
});

describe("points of a grid without noise, whose samples are rounded to whole numbers,", () => {
  const moved = (camera: Camera): Camera[] =>
    [0, 1, 2].map((k) => ({
      ...camera,
      place: [-0.0203 + 0.00013 * k, -0.0147 + 0.00017 * k, 0.3 + 0.0011 * k],
    }));
  it.each<[string, Target, Camera]>([
    ["corners along the pixels", target, along],
    ["corners turned by 1.5 degrees", target, turned],
    ["dots", spots, along],
  ])("lie where stated: %s", (_, of, camera) => {
    const pictures = moved(camera).map((one) => told(one, 0.8, 8, of, 0, [1]));
    const rms = rootMeanSquare(pictures.map((one) => one.rms));
    const stated = rootMeanSquare(pictures.map((one) => one.stated));
    // 120 coordinates, but rows of them err together.
    expect(rms).toBeLessThan(1.25 * stated);
    expect(rms).toBeGreaterThan(0.5 * stated);
  });
});

describe("pixelEdge", () => {
  it("is the straight line between two levels that a full square makes of a sharp edge along it", () => {
    const edge = pixelEdge(Math.PI / 2, 1e-4);
    for (const distance of [-0.4, -0.1, 0, 0.25, 0.45])
      expect(Math.abs(edge(distance).value - 2 * distance)).toBeLessThan(1e-3);
    expect(edge(0.6).value).toBe(1);
  });

  it("is the part of the square on either side of a sharp edge at 45 degrees", () => {
    const edge = pixelEdge(Math.PI / 4, 1e-4);
    // A corner that is cut off by a line at a distance h from it has an area h^2.
    const cut = (distance: number) => 1 - 2 * (Math.SQRT1_2 - distance) ** 2;
    for (const distance of [0, 0.2, 0.5, 0.7])
      expect(Math.abs(edge(distance).value - cut(distance))).toBeLessThan(1e-6);
  });
});
