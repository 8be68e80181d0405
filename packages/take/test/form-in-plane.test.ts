import ndarray from "ndarray";
import { expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { seededNormal } from "./render-take.js";

const [rows, columns, count, speed] = [80, 128, 70, 2.5];

/** An invented take: a front of this form, so many px behind at a place across, which moves as a whole. */
function takeOf(degrees: number, lagAt: (across: number) => number) {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const normal = seededNormal(3);
  const pictures = Array.from({ length: count }, (_, number) =>
    Uint8Array.from({ length: rows * columns }, (_, k) => {
      const [x, y] = [(k % columns) - columns / 2, Math.floor(k / columns) - rows / 2];
      const behind = speed * (number - count / 2) - (c * x + s * y) - lagAt(c * y - s * x);
      return Math.round(115 + 55 * Math.tanh(behind / 1.5) + 2 * normal());
    }),
  );
  return {
    name: "invented",
    numbers: Array.from({ length: count }, (_, k) => k),
    rows,
    columns,
    bitDepth: 8,
    async *frames({ start = 0, end = count } = {}, region = { row: 0, column: 0, rows, columns }) {
      for (let index = start; index < end; index++) {
        const frame = ndarray(pictures[index], [rows, columns])
          .hi(region.row + region.rows, region.column + region.columns)
          .lo(region.row, region.column);
        yield { index, number: index, frame };
      }
    },
  };
}

it.each([
  ["a high wave along the rows", 0, (across: number) => 12 * Math.sin(across / 11)],
  ["a wedge whose halves are not of one size", 20, (across: number) => (across < 0 ? -0.2 : 0.6) * across],
])(
  "%s is measured in the direction in which it moves as a whole",
  async (_, degrees, lagAt) => {
    const known = { rateHz: 1, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 };
    const { result } = await measureTake({ frames: takeOf(degrees, lagAt) }, known);
    if (result.status !== "measured") throw new Error(JSON.stringify(result.warnings));
    expect(result.shape).toMatchObject({ name: "none", measuredAlong: "path" });
    expect(Math.abs(result.shape!.form!.angleDegrees.value - degrees)).toBeLessThan(0.1);
    expect(result.warnings.map(({ code }) => code)).not.toContain("direction-unsure");
    expect(Math.abs(result.speed.value - speed)).toBeLessThan(result.speed.expandedUncertainty);
    expect(result.speed.expandedUncertainty).toBeLessThan(0.002 * speed);
    // What is drawn is the form, in the middle frame within its blur.
    const middle = result.event!.find(({ moment }) => moment === "middle")!;
    const [{ points }] = middle.fronts;
    expect(points!.length).toBeGreaterThan(20);
    const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    for (const [px, py] of points!) {
      const [x, y] = [px - columns / 2, py - rows / 2];
      const behind = speed * (middle.frame - count / 2) - (c * x + s * y) - lagAt(c * y - s * x);
      expect(Math.abs(behind)).toBeLessThan(1.5);
    }
    expect(result.speed.budget.map(({ source }) => source)).toContain("direction of the run");
  },
  120_000,
);
