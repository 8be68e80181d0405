import { describe, expect, it } from "vitest";
import type { Camera, Look, Target } from "../../../../scripts/calibration/render-target.js";
import { findGrid } from "../../src/grid/find-grid.js";
import { board, dotted, furthest, oblique, rootMeanSquare, seenPoints, square } from "../cameras.js";
import { clear, find, patternOf, poor, renderTarget } from "../found-grids.js";
import { leastError } from "../least-error.js";

/** Dimmer: step to noise 14 in the light and 7 in the shade. */
const poorer: Look = { ...poor, bright: 57 };
const turned: Camera = { ...oblique, turnDegrees: [12, -8, 33], place: [-0.015, -0.04, 0.3] };
/** Distances of the found points from where the camera shows them; the grid may be read from its other end. */
function errors(camera: Camera, target: Target, look: Look): number[] {
  const { points } = find(camera, target, look);
  const truth = seenPoints(camera, target).map(({ pixel }) => pixel);
  const order =
    furthest(points, truth) < furthest(points, [...truth].reverse()) ? truth : [...truth].reverse();
  return points.map(([x, y], n) => Math.hypot(x - order[n][0], y - order[n][1]));
}

describe("findGrid", () => {
  it.each<[string, Camera, Target, Look, number]>([
    ["square on", square, board, clear, 0.012],
    ["oblique and turned", oblique, board, clear, 0.015],
    ["upright", { ...oblique, turnDegrees: [15, 10, -100], place: [-0.02, 0.04, 0.3] }, board, clear, 0.015],
    [
      "upside down through a lens",
      { ...square, k1: -0.2, turnDegrees: [5, 8, 180], place: [0.04, 0.025, 0.3] },
      board,
      clear,
      0.02,
    ],
    ["small", { ...square, place: [-0.04, -0.025, 0.8] }, board, clear, 0.025],
    ["dots, oblique and turned", { ...oblique, turnDegrees: [35, -20, 30] }, dotted, clear, 0.015],
  ])("finds a grid %s without being told where", (_, camera, target, look, rms) => {
    const off = errors(camera, target, look);
    expect(rootMeanSquare(off)).toBeLessThan(rms);
  });

  it("places corners to better than 0.05 px (rms) in a noisy, dim, uneven, slightly blurred, rotated picture", () => {
    const off = [5, 6, 7].flatMap((seed) => errors(turned, board, { ...poor, seed }));
    expect(rootMeanSquare(off)).toBeLessThan(0.05);
  });

  it("places them within 1.15 times the least error in a dimmer one, where no fit of each corner by itself reaches 0.05 px", () => {
    const off = [5, 6, 7, 8, 9].flatMap((seed) => errors(turned, board, { ...poorer, seed }));
    const least = leastError(turned, board, poorer);
    // 270 distances of two coordinates tell their rms to 3 %; seen: 0.055 px, and 0.052 px is the least.
    expect(least).toBeGreaterThan(0.05);
    expect(rootMeanSquare(off) / least).toBeLessThan(1.15);
  });

  it("states a standard uncertainty that the errors bear out within a quarter", () => {
    const { standardUncertaintyPixels } = find(square, board, poor);
    const off = [5, 6, 7].flatMap((seed) => errors(square, board, { ...poor, seed }));
    // rms distance is sqrt(2) times that of a coordinate; 162 distances tell it to 4 %, and the light varies
    const ratio = rootMeanSquare(off) / Math.SQRT2 / standardUncertaintyPixels;
    expect(ratio).toBeGreaterThan(0.75);
    expect(ratio).toBeLessThan(1.25);
  });

  it.each<[string, Look, number]>([
    ["blurred by 3 px", clear, 3],
    ["blurred by 6 px", clear, 6],
    ["dim, uneven and blurred by 5 px", poor, 5],
  ])("places dots %s as well as it states, each apart from its neighbours", (_, look, blur) => {
    const one = { ...look, blur };
    const { standardUncertaintyPixels, blurPixels } = find(turned, dotted, one);
    const off = [5, 6].flatMap((seed) => errors(turned, dotted, { ...one, seed }));
    // 70 distances of two coordinates tell their rms to 6 %.
    const ratio = rootMeanSquare(off) / Math.SQRT2 / standardUncertaintyPixels;
    expect(ratio).toBeGreaterThan(0.75);
    expect(ratio).toBeLessThan(1.25);
    expect(Math.abs(blurPixels - blur)).toBeLessThan(0.05 * blur);
  });

  it("finds a grid sharper than its pixels, whose blur nothing tells", () => {
    const off = errors(square, board, { ...clear, blur: 0 });
    expect(rootMeanSquare(off)).toBeLessThan(0.01);
  });

  it("gives the same points for a picture whose samples went through a curve", () => {
    const { rows, columns } = square;
    const data = renderTarget(square, board, { ...clear, noise: 0 });
    const bent = Float64Array.from(data, (value) => 255 * (value / 255) ** 0.45);
    const pattern = patternOf(board);
    const straight = findGrid({ data, rows, columns }, pattern).points;
    // Rounding to whole samples leaves some 0.002 px; a threshold at half the brightness would move edges by 0.3 px.
    expect(furthest(findGrid({ data: bent, rows, columns }, pattern).points, straight)).toBeLessThan(0.01);
  });

  it("moves with the picture: mirrored left to right, the points are mirrored", () => {
    const { rows, columns } = square;
    const data = renderTarget(oblique, board, clear);
    const mirrored = data.map((_, at) => data[at - (at % columns) + columns - 1 - (at % columns)]);
    const key = ([x, y]: readonly [number, number]) => Math.round(x) * 1000 + Math.round(y);
    const sorted = (points: readonly (readonly [number, number])[]) =>
      [...points].sort((a, b) => key(a) - key(b));
    const found = findGrid({ data, rows, columns }, patternOf(board)).points;
    const other = findGrid({ data: mirrored, rows, columns }, patternOf(board)).points;
    const back = other.map(([x, y]) => [columns - 1 - x, y] as const);
    expect(furthest(sorted(back), sorted(found))).toBeLessThan(0.002);
  });

  it("numbers the points from left to right, never mirrored", () => {
    const { points } = find(oblique, board, clear);
    const [first, right, below] = [points[0], points[8], points[45]];
    expect(right[0]).toBeGreaterThan(first[0]);
    const turn =
      (right[0] - first[0]) * (below[1] - first[1]) - (right[1] - first[1]) * (below[0] - first[0]);
    expect(turn).toBeGreaterThan(0);
  });
});
