import { describe, expect, it } from "vitest";
import {
  type Camera,
  expose,
  type Look,
  type Target,
  viewTarget,
} from "../../../scripts/calibration/render-target.js";
import { randomFrom } from "../../../scripts/random.js";
import { blurred } from "../src/field.js";
import { findGrid } from "../src/find-grid.js";
import { board, dotted, furthest, oblique, rootMeanSquare, seenPoints, square } from "./cameras.js";
import { leastError } from "./least-error.js";

const clear: Look = { blur: 0.8, dark: 30, bright: 200, fall: 1, noise: 2, seed: 3 };
/** Dim, half the light at the far corner, step to noise 20 in the light and 10 in the shade. */
const poor: Look = { blur: 1, dark: 15, bright: 75, fall: 0.5, noise: 3, seed: 5 };
/** Dimmer: step to noise 14 in the light and 7 in the shade. */
const poorer: Look = { ...poor, bright: 57 };
const turned: Camera = { ...oblique, turnDegrees: [12, -8, 33], place: [-0.015, -0.04, 0.3] };
const patternOf = ({ kind, along, across, pitch }: Target) => ({ kind, along, across, pitchMetres: pitch });

const views = new Map<string, Float64Array>();

/** What look and seed do not change is rendered once. */
function renderTarget(camera: Camera, target: Target, look: Look): Uint8Array {
  const key = JSON.stringify([camera, target, look.blur]);
  const view = views.get(key) ?? viewTarget(camera, target, look.blur);
  views.set(key, view);
  return expose(camera, view, look);
}

function find(camera: Camera, target: Target, look: Look, asked = target) {
  const { rows, columns } = camera;
  return findGrid({ data: renderTarget(camera, target, look), rows, columns }, patternOf(asked));
}

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

  it.each<[string, Camera, Target, Look, Target, string, string]>([
    [
      "cut off",
      { ...square, place: [-0.095, -0.025, 0.3] },
      board,
      clear,
      board,
      "grid-cut-off",
      "cut off at the left edge",
    ],
    [
      "dots cut off",
      { ...square, place: [-0.095, -0.025, 0.3] },
      dotted,
      clear,
      dotted,
      "grid-cut-off",
      "left edge",
    ],
    [
      "dots cut off by a part of a dot",
      { ...square, place: [-0.079, -0.025, 0.3] },
      dotted,
      clear,
      dotted,
      "grid-cut-off",
      "a dot is cut off at the edge",
    ],
    [
      "dots cut off on the right",
      { ...square, place: [0.015, -0.025, 0.3] },
      dotted,
      clear,
      dotted,
      "grid-cut-off",
      "right edge",
    ],
    [
      "dots whose rows are too few, whole and near an edge",
      { ...square, place: [-0.07, -0.025, 0.3] },
      { ...dotted, across: 4 },
      clear,
      dotted,
      "wrong-count",
      "28 dots in 7 x 4",
    ],
    [
      "dots blurred into each other",
      square,
      dotted,
      { ...clear, blur: 9 },
      dotted,
      "grid-blurred",
      "focus the camera",
    ],
    [
      "checkerboard in place of dots",
      square,
      board,
      clear,
      dotted,
      "wrong-count",
      "a grid of 9 x 6 corners is seen where 7 x 5 dots were asked for: give --corners 9x6",
    ],
    [
      "dots in place of a checkerboard",
      square,
      dotted,
      clear,
      board,
      "wrong-count",
      "a grid of 7 x 5 dots is seen where 9 x 6 corners were asked for: give --dots 7x5",
    ],
    ["blurred beyond use", square, board, { ...clear, blur: 11 }, board, "grid-blurred", "focus the camera"],
    [
      "blurred into rows of fewer points",
      oblique,
      board,
      { ...poor, blur: 12 },
      board,
      "grid-blurred",
      "seem to be there where 9 x 6 corners were asked for, but they cannot be placed: they are too blurred",
    ],
    ["absent", { ...square, place: [1, 1, 0.3] }, board, clear, board, "grid-absent", "no grid is seen"],
    [
      "dots absent",
      { ...square, place: [1, 1, 0.3] },
      dotted,
      clear,
      dotted,
      "grid-absent",
      "no grid is seen",
    ],
    [
      "of another count",
      square,
      { ...board, along: 8 },
      clear,
      board,
      "wrong-count",
      "48 corners in 8 x 6 are seen where 9 x 6 corners",
    ],
    [
      "counted by squares",
      square,
      board,
      clear,
      { ...board, along: 10, across: 7 },
      "wrong-count",
      "counts the inner corners of a checkerboard, give --corners 9x6 if that is the standard",
    ],
  ])("a grid %s is an error that says what was seen", (_, camera, target, look, asked, code, words) => {
    expect(() => find(camera, target, look, asked)).toThrow(
      expect.objectContaining({ code, message: expect.stringContaining(words) }),
    );
  });

  it("says of a dot that is not there that it is missing, and of two grids that there are two", () => {
    const { rows, columns } = square;
    const shown = renderTarget(square, dotted, clear);
    const [x, y] = seenPoints(square, dotted)[17].pixel;
    const covered = shown.map((value, at) =>
      Math.hypot((at % columns) - x, Math.floor(at / columns) - y) < 15 ? 200 : value,
    );
    expect(() => findGrid({ data: covered, rows, columns }, patternOf(dotted))).toThrow(
      "a grid of 7 x 5 dots is seen, but 1 of its 35 points is not there",
    );
    const below = Uint8Array.from([...shown, ...shown]);
    expect(() => findGrid({ data: below, rows: 2 * rows, columns }, patternOf(dotted))).toThrow(
      "more than one grid of 7 x 5 dots is seen",
    );
  });

  it("does not take the spots of a texture for rows of dots", () => {
    const random = randomFrom(11);
    const rough = Float64Array.from({ length: 240 * 320 }, () => random.normal());
    const { data } = blurred({ data: rough, rows: 240, columns: 320 }, 5);
    const texture = data.map((value) => 128 + 600 * value);
    expect(() => findGrid({ data: texture, rows: 240, columns: 320 }, patternOf(dotted))).toThrow(
      "no grid is seen where 7 x 5 dots were asked for",
    );
  });

  it("refuses a grid too small to be told from texture, and samples that are none", () => {
    const picture = { data: new Uint8Array(12), rows: 3, columns: 4 };
    expect(() => findGrid(picture, { kind: "corners", along: 2, across: 2, pitchMetres: 1 })).toThrow(
      "3 by 2 points",
    );
    const asked = { kind: "corners", along: 3, across: 3, pitchMetres: 1 } as const;
    expect(() => findGrid({ ...picture, rows: 4 }, asked)).toThrow("data must hold rows x columns = 4 x 4");
    expect(() => findGrid({ ...picture, data: new Float64Array(12).fill(Number.NaN) }, asked)).toThrow(
      "data[0]",
    );
  });
});
