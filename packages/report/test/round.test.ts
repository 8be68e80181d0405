import { describe, expect, it } from "vitest";
import { roundDown, roundPair, twoDigits } from "../src/words/round.js";

describe("roundPair", () => {
  it.each([
    [1496.237, 3.4321, "1496.2", "3.4"],
    [0.19642, 0.01234, "0.196", "0.012"],
    [149612.3, 1234, "149600", "1200"],
    [40.00123, 0.0999, "40.00", "0.10"],
    [5, 0.0996, "5.00", "0.10"],
    [0.0000123461, 0.0000009, "0.00001235", "0.00000090"],
    [1200, 99.6, "1200", "100"],
    [1234, 25, "1234", "25"],
    [40.123456789, 0, "40.1235", "0"],
  ])("gives %d with %d as %s and %s", (value, halfWidth, valueText, halfWidthText) => {
    expect(roundPair(value, halfWidth)).toEqual({ value: valueText, halfWidth: halfWidthText });
  });
});

describe("twoDigits", () => {
  it.each([
    [4512.3, "4500"],
    [400000, "400000"],
    [99.6, "100"],
    [0.8, "0.80"],
    [0.0000123, "0.000012"],
    [2e-8, "0.000000020"],
    [4.52e-12, "4.5e-12"],
    [0, "0"],
  ])("gives %d as %s", (value, text) => {
    expect(twoDigits(value)).toBe(text);
  });
});

describe("roundDown", () => {
  it.each([
    [1239.9, "1230"],
    [999.96, "999"],
    [0.019999, "0.0199"],
    [1000, "1000"],
    [20, "20.0"],
  ])("gives %d as %s, never more", (value, text) => {
    expect(roundDown(value)).toBe(text);
  });
});
