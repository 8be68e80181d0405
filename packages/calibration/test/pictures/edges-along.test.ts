import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { edgesAlong } from "../../src/pictures/edges-along.js";
import type { Picture, Point } from "../../src/types.js";

const [COLUMNS, ROWS] = [160, 60];
const PATH = [
  [4, 30],
  [155, 30],
] as const satisfies readonly [Point, Point];

interface Edge {
  /** Column at the middle row. */
  readonly at: number;
  /** Against the upright, degrees. */
  readonly slant: number;
  readonly blur: number;
  readonly step: number;
}

/** Invented edges, each pixel integrated by brute force over 5 by 5 places; erf from a series of its own. */
function picture(edges: readonly Edge[], noise: number, seed = 1): Picture {
  const normal = seededNormal(seed);
  const data = new Float64Array(COLUMNS * ROWS);
  const places = [-0.4, -0.2, 0, 0.2, 0.4];
  for (let r = 0; r < ROWS; r++)
    for (let c = 0; c < COLUMNS; c++) {
      let value = 40;
      for (const { at, slant, blur, step } of edges) {
        const [cosine, sine] = [Math.cos((slant * Math.PI) / 180), Math.sin((slant * Math.PI) / 180)];
        let sum = 0;
        for (const dy of places)
          for (const dx of places)
            sum += distribution(((c + dx - at) * cosine + (r + dy - 30) * sine) / blur) / 25;
        value += step * sum;
      }
      data[r * COLUMNS + c] = Math.round(value + noise * normal());
    }
  return { data, rows: ROWS, columns: COLUMNS };
}

/** Normal distribution: Abramowitz and Stegun (1964), 7.1.26, good to 2e-7. */
function distribution(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = 0.5 * series * Math.exp(-x * x);
  return z > 0 ? 1 - tail : tail;
}

describe("edgesAlong", () => {
  it.each([0.5, 0.8, 1.5, 3, 5])("tells a blur of %f px of a slanted edge to 5 %", (blur) => {
    const [edge] = edgesAlong(picture([{ at: 80, slant: 6, blur, step: 120 }], 2), PATH);
    // The pixel integrates over one px: a variance of 1/12.
    const seen = Math.hypot(blur, Math.sqrt(1 / 12));
    expect(Math.abs(edge.blurPixels / seen - 1)).toBeLessThan(0.05);
    const slant = (6 * Math.PI) / 180;
    const aside = (edge.place[0] - 80) * Math.cos(slant) + (edge.place[1] - 30) * Math.sin(slant);
    // Of a wide blur the slope of the light takes a part.
    expect(Math.abs(aside)).toBeLessThan(Math.max(0.05, blur / 20));
    expect(Math.abs(edge.step / 120 - 1)).toBeLessThan(0.05);
  });

  it("gives the blur along the path of an edge that lies obliquely to it", () => {
    const [edge] = edgesAlong(picture([{ at: 80, slant: 30, blur: 2, step: 120 }], 2), PATH);
    const seen = Math.hypot(2, Math.sqrt(1 / 12)) / Math.cos(Math.PI / 6);
    expect(Math.abs(edge.blurAlongPixels / seen - 1)).toBeLessThan(0.05);
  });

  it("states an uncertainty of the blur that the errors bear out within a third", () => {
    const off: number[] = [];
    let stated = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const [edge] = edgesAlong(picture([{ at: 80, slant: 6, blur: 1.5, step: 60 }], 4, seed), PATH);
      off.push(edge.blurPixels - Math.hypot(1.5, Math.sqrt(1 / 12)));
      stated += edge.standardUncertaintyPixels / 40;
    }
    const ratio = Math.sqrt(off.reduce((sum, value) => sum + value * value, 0) / 40) / stated;
    // 40 errors tell their rms to 11 %
    expect(ratio).toBeGreaterThan(0.67);
    expect(ratio).toBeLessThan(1.4);
  });

  it("puts the sharpest of several first", () => {
    const found = edgesAlong(
      picture(
        [
          { at: 40, slant: 5, blur: 3, step: 70 },
          { at: 110, slant: -8, blur: 1, step: -60 },
        ],
        2,
      ),
      PATH,
    );
    expect(found.map(({ place }) => Math.round(place[0]))).toEqual([110, 40]);
  });

  it("does not take the waves of a texture for edges", () => {
    const data = Float64Array.from({ length: COLUMNS * ROWS }, (_, at) =>
      Math.round(90 + 30 * Math.sin(0.41 * (at % COLUMNS)) + 25 * Math.sin(0.23 * (at % COLUMNS) + 1)),
    );
    expect(edgesAlong({ data, rows: ROWS, columns: COLUMNS }, PATH)).toEqual([]);
  });

  it("finds none in noise, nor in a picture without light, nor along the edge", () => {
    expect(edgesAlong(picture([], 3), PATH)).toEqual([]);
    expect(edgesAlong({ ...picture([], 0), data: new Float64Array(COLUMNS * ROWS) }, PATH)).toEqual([]);
    expect(
      edgesAlong(picture([{ at: 80, slant: 6, blur: 1, step: 90 }], 2), [
        [80, 4],
        [80, 55],
      ]),
    ).toEqual([]);
  });
});
