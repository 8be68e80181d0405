import { describe, expect, it } from "vitest";
import { type Camera, expose, type Target, viewSharply } from "../../../scripts/calibration/render-target.js";
import { findGrid } from "../src/find-grid.js";
import { pixelEdge } from "../src/pixel-edge.js";
import { rootMeanSquare, seenPoints, square } from "./cameras.js";
import { clear, patternOf } from "./found-grids.js";

const target: Target = { kind: "corners", along: 5, across: 4, pitch: 0.01 };
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

/** Errors of coordinates, px, and what is stated of them, in five pictures with noise of 1 % of the step. */
function told(camera: Camera, blur: number, aperture: number) {
  const { rows, columns } = camera;
  const view = viewSharply(camera, target, blur, aperture);
  const truth = seenPoints(camera, target).flatMap(({ pixel }) => pixel);
  const grids = [1, 2, 3, 4, 5].map((seed) =>
    findGrid({ data: expose(camera, view, { ...clear, seed }), rows, columns }, patternOf(target)),
  );
  const errors = grids.flatMap(({ points }) => points.flat().map((value, n) => value - truth[n]));
  const stated = rootMeanSquare(grids.map((grid) => grid.standardUncertaintyPixels));
  return { rms: rootMeanSquare(errors), stated };
}

describe("corners of a checkerboard that is blurred by less than a pixel", () => {
  it.each<[string, Camera, number, number]>([
    ["along the pixels", along, 0, 8],
    ["along the pixels", along, 0.2, 6],
    ["along the pixels", along, 0.3, 8],
    ["turned by 1.5 degrees", turned, 0.2, 8],
    ["turned by 1.5 degrees", turned, 0.2, 6],
    ["turned by 1.5 degrees", turned, 0.45, 6],
    ["turned by 1.5 degrees", turned, 0.6, 8],
    ["seen askew", askew, 0.2, 8],
    ["seen askew", askew, 0.45, 8],
  ])(
    "and seen %s lie where stated: blur %f px, pixels open on %i eighths of their sides",
    (_, camera, blur, aperture) => {
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
