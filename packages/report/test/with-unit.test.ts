import { describe, expect, it } from "vitest";
import { percentText, threeDigits, wholeNumber, withUnit } from "../src/words/with-unit.js";

describe("withUnit", () => {
  it.each([
    [2.9e-4, "290 us"],
    [1, "1 s"],
    [0.99999, "1 s"],
    [1.5e-3, "1.5 ms"],
    [1234.5, "1230 s"],
    [4e-9, "4 ns"],
    [1e-10, "0.1 ns"],
  ])("%d s is %s", (seconds, text) => {
    expect(withUnit(seconds, "s")).toBe(text);
  });
});

describe("other quantities for a person", () => {
  it("lengths take the same prefixes", () => {
    expect([withUnit(0.3, "m"), withUnit(2.345e-4, "m"), withUnit(2, "m")]).toEqual([
      "300 mm",
      "235 um",
      "2 m",
    ]);
  });

  it("numbers have three digits and groups of three", () => {
    expect([threeDigits(1481.1), threeDigits(0.01234), threeDigits(0)]).toEqual(["1,480", "0.0123", "0"]);
    expect(wholeNumber(1041666.4)).toBe("1,041,666");
    expect([percentText(0.0123), percentText(0.000028)]).toEqual(["1.2 %", "0.0028 %"]);
  });
});
