import { describe, expect, it } from "vitest";
import { peaksOf } from "../../src/pictures/peaks.js";

describe("peaksOf", () => {
  const [rows, columns] = [30, 40];
  const fieldOf = (at: (x: number, y: number) => number) => ({
    data: Float64Array.from({ length: rows * columns }, (_, n) => at(n % columns, Math.floor(n / columns))),
    rows,
    columns,
  });

  it("counts equal values that stand together once, and lone peaks each", () => {
    const ridge = (x: number, y: number) => (y === 10 && x >= 5 && x < 35 ? 3 : 0);
    const square = (x: number, y: number) => ((x === 8 || x === 9) && (y === 20 || y === 21) ? 5 : 0);
    const lone = (x: number, y: number) => (x === 30 && y === 22 ? 4 : 0);
    const peaks = peaksOf(
      fieldOf((x, y) => ridge(x, y) + square(x, y) + lone(x, y)),
      3,
      100,
    );
    expect(peaks).toEqual([
      { x: 8, y: 20, value: 5 },
      { x: 30, y: 22, value: 4 },
      { x: 5, y: 10, value: 3 },
    ]);
  });
});
