import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { letterPen } from "../src/drawing/letter-pen.js";
import { drawIsochrones, type IsochronesPicture } from "../src/index.js";
import type { CellValues } from "../src/maps/cell-values.js";
import { drawIsochroneMarks } from "../src/maps/draw-isochrones.js";
import { isochroneLines } from "../src/maps/isochrone-lines.js";
import { isolines } from "../src/maps/isolines.js";

/** Arrivals, in frames, of an invented front by the place in the picture. */
function arrivals(
  [rows, columns]: readonly [number, number],
  cell: number,
  at: (x: number, y: number) => number,
): CellValues {
  const middle = (k: number) => (k + 0.5) * cell - 0.5;
  const values = Float64Array.from({ length: rows * columns }, (_, k) =>
    at(middle(k % columns), middle(Math.floor(k / columns))),
  );
  return { values, shape: [rows, columns], cell };
}

/** As sure as can be: they are not smoothed, but for medians. */
const linesOf = (cells: CellValues, rateHz: number) =>
  isochroneLines(cells, new Float64Array(cells.values.length), rateHz);

const angle = (30 * Math.PI) / 180;
/** A straight front at 30 degrees, 1.7 px a frame, that leaves the top left corner in frame 10. */
const oblique = (x: number, y: number) => 10 + (x * Math.cos(angle) + y * Math.sin(angle)) / 1.7;

describe("isochroneLines", () => {
  it.each([1, 4])("of a straight front at an angle lie where geometry says, in cells of %i px", (cell) => {
    const { isochrones } = linesOf(arrivals([60 / cell, 80 / cell], cell, oblique), 1);
    expect(isochrones.length).toBeGreaterThan(5);
    // A plane is interpolated exactly, but for rounding.
    for (const { frame, lines } of isochrones)
      for (const [x, y] of lines.flat())
        expect(Math.abs(x * Math.cos(angle) + y * Math.sin(angle) - 1.7 * (frame - 10))).toBeLessThan(1e-9);
  });

  it("of a circle are circles, whole ones closed", () => {
    const cells = arrivals([61, 81], 1, (x, y) => Math.hypot(x - 40.3, y - 30.2) / 1.5);
    const { isochrones } = linesOf(cells, 1);
    const within = isochrones.filter(({ frame }) => frame > 3 && frame < 18);
    expect(within.length).toBeGreaterThan(2);
    for (const { frame, lines } of within) {
      expect(lines).toHaveLength(1);
      expect(lines[0][0]).toEqual(lines[0][lines[0].length - 1]);
      const radius = 1.5 * frame;
      // Linear between cells a pixel apart: 1/(8 R) px off at most; the median of nine moves a circle by as much as 1/(2 R).
      for (const [x, y] of lines[0])
        expect(Math.abs(Math.hypot(x - 40.3, y - 30.2) - radius)).toBeLessThan(1 / radius);
    }
  });

  it("stand at evenly spaced round times, with these as labels", () => {
    const { isochrones, step } = linesOf(arrivals([60, 80], 1, oblique), 500_000);
    // The front takes 58 frames of 2 us: 20 us to some 135 us.
    expect(step).toBe("10 µs");
    expect(isochrones.map(({ label }) => label).slice(0, 3)).toEqual(["30 µs", "40 µs", "50 µs"]);
    // But for the rounding of the sums.
    expect(isochrones.map(({ frame }) => Number(frame.toFixed(9))).slice(0, 3)).toEqual([15, 20, 25]);
  });

  it("are not drawn where no front arrived", () => {
    const cells = arrivals([60, 80], 1, (x, y) => (x > 30 && x < 50 ? Number.NaN : oblique(x, y)));
    const xs = linesOf(cells, 1).isochrones.flatMap(({ lines }) => lines.flat().map(([x]) => x));
    expect(xs.filter((x) => x < 30).length).toBeGreaterThan(0);
    expect(xs.filter((x) => x > 50).length).toBeGreaterThan(0);
    expect(xs.filter((x) => x > 30 && x < 50)).toEqual([]);
    const none = arrivals([6, 8], 1, () => Number.NaN);
    expect(linesOf(none, 1).isochrones).toEqual([]);
  });

  it("of a sharp front that jumps from frame to frame are straight, and where it was", () => {
    const cells = arrivals([60, 200], 1, (x) => Math.floor(x / 9.87));
    const u = new Float64Array(cells.values.length).fill(1 / Math.sqrt(12));
    const { isochrones } = isochroneLines(cells, u, 500_000);
    const within = isochrones.filter(({ frame }) => frame > 2 && frame < 17);
    expect(within.length).toBeGreaterThan(3);
    // In the middle of the frame in which it is seen first: half a frame behind its number. Within a quarter of a step.
    for (const { frame, lines } of within)
      for (const [x] of lines.flat()) expect(Math.abs(x - 9.87 * (frame + 0.5))).toBeLessThan(2.5);
    // A plane through unsure arrivals of a straight front is that front, at the edges, too.
    const plane = arrivals([60, 80], 1, oblique);
    const unsure = isochroneLines(plane, new Float64Array(4800).fill(0.5), 1).isochrones;
    for (const { frame, lines } of unsure)
      for (const [x, y] of lines.flat())
        expect(Math.abs(x * Math.cos(angle) + y * Math.sin(angle) - 1.7 * (frame - 10))).toBeLessThan(1e-9);
  });

  it("leave out the speck of a single cell", () => {
    const cells = arrivals([60, 80], 1, oblique);
    cells.values[5 * 80 + 70] = 11;
    for (const { lines } of linesOf(cells, 1).isochrones) expect(lines.length).toBeLessThanOrEqual(1);
  });
});

describe("isolines", () => {
  it("of a saddle part the corners that the middle keeps apart", () => {
    const high = isolines(Float64Array.of(3, 0, 0, 3), [2, 2], 1);
    expect(high).toHaveLength(2);
    // The mean is above the level: the two low corners are cut off.
    for (const line of high) {
      const [mx, my] = [(line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2];
      expect(mx > 0.5).toBe(my < 0.5);
    }
  });
});

describe("drawIsochrones", () => {
  const picture: IsochronesPicture = {
    data: Float64Array.from({ length: 60 * 80 }, (_, k) => (k % 80 < 40 ? 0 : 255)),
    shape: [60, 80],
    frame: 30,
    arrival: arrivals([60, 80], 1, oblique),
    standardUncertainty: new Float64Array(60 * 80),
    rateHz: 500_000,
    title: "Invented front",
  };

  it("writes every time once, on its line", () => {
    const { isochrones } = linesOf(picture.arrival, picture.rateHz);
    const svg = drawIsochroneMarks(isochrones, [60, 80], 6, letterPen);
    const texts = [...svg.matchAll(/<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]*)</g)];
    expect(texts.length).toBeGreaterThan(isochrones.length / 2);
    expect(new Set(texts.map(([, , , text]) => text)).size).toBe(texts.length);
    for (const [, x, y, text] of texts) {
      const frame = Number.parseFloat(text) / 2;
      // Half of the letters' height above the base line; coordinates are rounded to 0.01.
      const [px, py] = [Number(x) / 6 - 0.5, (Number(y) - 0.36 * 13) / 6 - 0.5];
      expect(Math.abs(px * Math.cos(angle) + py * Math.sin(angle) - 1.7 * (frame - 10))).toBeLessThan(0.01);
    }
  });

  it("greys the still: black and white become middle greys", async () => {
    const empty = arrivals([60, 80], 1, () => Number.NaN);
    const png = await drawIsochrones({ ...picture, arrival: empty });
    const { data, info } = await sharp(png).raw().toBuffer({ resolveWithObject: true });
    const grey = (column: number, row: number) => {
      const [x, y] = [24 + 6 * column + 3, info.height - 24 - 6 * (60 - row) + 3];
      return data[(y * info.width + x) * info.channels];
    };
    expect([grey(0, 30), grey(79, 30)]).toEqual([96, 208]);
  });

  it("gives the same bytes for the same picture", async () => {
    expect(await drawIsochrones(picture)).toEqual(await drawIsochrones(picture));
  });

  it.each<[string, Partial<IsochronesPicture>]>([
    ["rateHz must be finite and > 0, got 0", { rateHz: 0 }],
    [
      "standardUncertainty must hold as many values as arrival, 4800, got 1",
      { standardUncertainty: new Float64Array(1) },
    ],
    ["data must hold rows x columns = 4800 values, got 3", { data: new Float64Array(3) }],
    [
      "cells must lie in the picture of 60 x 80 px, got 60 x 80 of 2 px",
      { arrival: { ...picture.arrival, cell: 2 } },
    ],
  ])("refuses what does not fit together: %s", async (message, change) => {
    await expect(drawIsochrones({ ...picture, ...change })).rejects.toThrow(new RangeError(message));
  });
});
