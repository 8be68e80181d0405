import { describe, expect, it } from "vitest";
import { fitRowTime, modesOfHeight, seriesOf } from "../src/index.js";
import { widthCostsRate } from "../src/width-costs-rate.js";
import { mode } from "./mode.js";

/** A sensor whose interval is exactly 16 ns a row and 1 µs besides. */
const exact = (rows: number) => 1 / (rows * 16e-9 + 1e-6);
const relative = (a: number, b: number) => Math.abs(a / b - 1);

describe("fitRowTime", () => {
  it("gives row time and overhead back from exact rates, to 1e-9, and a residual of rounding", () => {
    const rows = [64, 128, 400, 800];
    const model = fitRowTime(rows, rows.map(exact));
    // Differences of intervals that are alike to one digit lose as much.
    expect(relative(model.rowTimeSeconds, 16e-9)).toBeLessThan(1e-9);
    expect(relative(model.overheadSeconds, 1e-6)).toBeLessThan(1e-9);
    expect(model.relativeResidual).toBeLessThan(1e-12);
    expect(model.fittedRows).toEqual(rows);
  });

  it("has no residual to show with two entries, which fix both parameters", () => {
    expect(fitRowTime([64, 128], [exact(64), exact(128)]).relativeResidual).toBeNull();
  });

  it("shows how far one listed rate departs from the line through the others", () => {
    const rates = [64, 128, 400].map(exact);
    const residual = fitRowTime([64, 128, 400], [rates[0], rates[1] * 1.1, rates[2]]).relativeResidual!;
    expect(residual).toBeGreaterThan(0.02);
    expect(residual).toBeLessThan(0.1);
  });

  it.each([[[64]], [[64, 64]], [[128, 64]], [[]]])("refuses the heights %j", (rows) => {
    expect(() => fitRowTime(rows, rows.map(exact))).toThrow(RangeError);
  });
});

describe("modesOfHeight", () => {
  const heights = [64, 128, 400, 800, 1000];
  const modes = heights.toReversed().map((rows) => mode(1280, rows, exact(rows)));

  it("interpolates an exact sensor to 1e-9 and says what it was fitted to", () => {
    const [found, ...others] = modesOfHeight(modes, 600);
    expect(others).toEqual([]);
    expect(relative(found.rateHz, exact(600))).toBeLessThan(1e-9);
    expect(found).toMatchObject({ columns: 1280, rows: 600, bits: 12, minExposureSeconds: 1e-7 });
    expect(found.interpolation?.fittedRows).toEqual([128, 400, 800, 1000]);
  });

  it("gives a listed height as it is listed", () => {
    expect(modesOfHeight(modes, 400)).toEqual([mode(1280, 400, exact(400))]);
  });

  it.each([63, 1001, 1])("never extrapolates: %i rows are an error that names the listed heights", (rows) => {
    expect(() => modesOfHeight(modes, rows)).toThrow(
      expect.objectContaining({ code: "rows-outside", message: expect.stringContaining("64 to 1000 px") }),
    );
  });

  it("never mixes widths: a height between entries of two widths is outside", () => {
    expect(() => modesOfHeight([mode(1280, 800, 1e4), mode(640, 400, 2e4)], 600)).toThrow(
      expect.objectContaining({ code: "rows-outside" }),
    );
  });

  it("gives one mode for each width that spans the height, with the exposure that every neighbour can do", () => {
    const both = [...modes, mode(640, 64, 9e5, { minExposureSeconds: 3e-7 }), mode(640, 800, 9e4)];
    const found = modesOfHeight(both, 600);
    expect(found.map(({ columns }) => columns)).toEqual([1280, 640]);
    expect(found[1].minExposureSeconds).toBe(3e-7);
    expect(
      modesOfHeight([...both, mode(640, 1000, 7e4, { minExposureSeconds: null })], 600)[1].minExposureSeconds,
    ).toBeNull();
  });
});

describe("seriesOf", () => {
  it("parts modes by width and bits, lowest pictures first", () => {
    const series = seriesOf([mode(8, 4, 1), mode(8, 2, 2), mode(8, 2, 3, { bits: 8 }), mode(16, 2, 1)]);
    expect(series.map((of) => of.map(({ rows }) => rows))).toEqual([[2, 4], [2], [2]]);
  });
});

describe("widthCostsRate", () => {
  it.each([
    ["false where two widths run at one rate", [mode(640, 96, 5e5), mode(1280, 96, 5e5)], false],
    ["true where the wider one is slower", [mode(640, 96, 5e5), mode(1280, 96, 4e5)], true],
    ["null where no height is listed twice", [mode(640, 96, 5e5), mode(1280, 128, 4e5)], null],
    ["null where only the bits differ", [mode(640, 96, 5e5), mode(1280, 96, 4e5, { bits: 8 })], null],
  ])("is %s", (_, modes, answer) => {
    expect(widthCostsRate(modes)).toBe(answer);
  });
});
