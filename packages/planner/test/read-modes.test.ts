import { describe, expect, it } from "vitest";
import { readModes } from "../src/index.js";

const header = "columns,rows,max_rate,bits,min_exposure";

describe("readModes", () => {
  it("reads every column in any order, empty optional cells as unknown, comments and line ends passed over", () => {
    const text =
      "\uFEFF# an invented camera\r\nrows,columns,max_rate,min_exposure,bits\r\n800,1280,76000,2e-7,12\r\n\r\n96, 640 ,500000,,\r\n";
    expect(readModes(text)).toEqual([
      { columns: 1280, rows: 800, rateHz: 76000, bits: 12, minExposureSeconds: 2e-7, interpolation: null },
      { columns: 640, rows: 96, rateHz: 500000, bits: null, minExposureSeconds: null, interpolation: null },
    ]);
  });

  it("needs neither bits nor min_exposure", () => {
    expect(readModes("columns,rows,max_rate\n64,32,1e6")).toEqual([
      { columns: 64, rows: 32, rateHz: 1e6, bits: null, minExposureSeconds: null, interpolation: null },
    ]);
  });

  it.each([
    ["no header", "1280,800,76000", "header-missing", "cam.csv, line 1: the header is missing"],
    ["an unknown column", "columns,rows,max_rate,fps\n1,1,1,1", "unknown-column", 'unknown column "fps"'],
    [
      "a column in other letters",
      "Columns,rows,max_rate\n1,1,1",
      "unknown-column",
      'unknown column "Columns"',
    ],
    ["semicolons", "columns;rows;max_rate\n1;1;1", "unknown-column", "put commas between the columns"],
    ["no text", "\u0089PNG\0\uFFFD\n1,1,1", "header-missing", "is no text"],
    ["a missing column", "columns,rows\n1,1", "missing-column", "the column max_rate is missing"],
    ["a column twice", "columns,rows,max_rate,rows\n1,1,1,1", "repeated-column", "rows stands there twice"],
    [
      "a short row",
      `${header}\n1280,800,76000`,
      "invalid-row",
      "line 2 has 3 values, and the header names 5",
    ],
    ["a long row", "columns,rows,max_rate\n1,2,3,4", "invalid-row", "line 2 has 4 values"],
    [
      "columns that are no whole number",
      "columns,rows,max_rate\n1.5,2,3",
      "invalid-row",
      'columns must be a whole number >= 1, px, got "1.5"',
    ],
    [
      "rows of zero",
      "columns,rows,max_rate\n8,0,3",
      "invalid-row",
      'rows must be a whole number >= 1, px, got "0"',
    ],
    [
      "a rate with a unit",
      "columns,rows,max_rate\n8,8,76k",
      "invalid-row",
      'max_rate must be a number > 0, frames per second, got "76k"',
    ],
    ["a rate that is infinite", "columns,rows,max_rate\n8,8,1e999", "invalid-row", 'got "1e999"'],
    ["an empty rate", "columns,rows,max_rate\n8,8,", "invalid-row", 'got ""'],
    [
      "an exposure with a unit",
      `${header}\n8,8,9,8,200ns`,
      "invalid-row",
      'min_exposure must be a number > 0, seconds, without a unit, or empty, got "200ns"',
    ],
    ["too many bits", `${header}\n8,8,9,33,`, "invalid-row", "bits must be a whole number from 1 to 32"],
    ["a mode twice", "columns,rows,max_rate\n8,8,9\n8,8,10", "repeated-mode", "lists 8 x 8 px twice"],
    ["a header alone", `${header}\n`, "modes-empty", "a header and no modes"],
    ["nothing", "\n# nothing\n", "modes-empty", "holds no modes"],
  ])("%s is an error that names file, place and value", (_, text, code, words) => {
    expect(() => readModes(text, "cam.csv")).toThrow(expect.objectContaining({ code }));
    expect(() => readModes(text, "cam.csv")).toThrow(words);
    expect(() => readModes(text, "cam.csv")).toThrow(/^cam\.csv/);
  });

  it("takes one size with two sample depths as two modes", () => {
    expect(readModes("columns,rows,max_rate,bits\n8,8,9,8\n8,8,5,12")).toHaveLength(2);
  });
});
