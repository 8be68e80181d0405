import { describe, expect, it } from "vitest";
import type { Camera, Look, Target } from "../../../scripts/calibration/render-target.js";
import { randomFrom } from "../../../scripts/random.js";
import { findGrid } from "../src/grid/find-grid.js";
import { blurred } from "../src/pictures/field.js";
import { board, dotted, oblique, seenPoints, square } from "./cameras.js";
import { clear, find, patternOf, poor, renderTarget } from "./found-grids.js";

describe("findGrid, of a grid that it does not find,", () => {
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
