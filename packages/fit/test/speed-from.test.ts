import { describe, expect, it } from "vitest";
import { effectiveDegreesOfFreedom, type Quantity, type SlopeEstimate, speedFrom } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";

/** A handful of multiplications. */
const ROUNDING = 1e-14;

const slope: SlopeEstimate = {
  slopePixelsPerFrame: -2,
  standardUncertaintyPixelsPerFrame: 0.006,
  degreesOfFreedom: 10,
};
const rate: Quantity = { value: 1e6, standardUncertainty: 0 };
const scale: Quantity = { value: 5e-4, standardUncertainty: 2e-6 };

describe("speedFrom", () => {
  it("multiplies by hand: 2 px/frame · 1e6 frames/s · 0.5 mm/px is 1000 m/s, 0.3 % and 0.4 % give 0.5 %", () => {
    const speed = speedFrom(slope, rate, scale);
    expectRelative(speed.value, 1000, ROUNDING);
    expectRelative(speed.standardUncertainty, 5, ROUNDING);
    // (5/3)⁴ · 10
    expectRelative(speed.degreesOfFreedom!, 6250 / 81, ROUNDING);
    expectRelative(speed.expandedUncertainty, speed.coverageFactor * 5, ROUNDING);
    expect(speed.coverageProbability).toBe(0.95);
  });

  it("keeps each contribution in m/s, by source and type", () => {
    const { budget } = speedFrom(slope, { ...rate, standardUncertainty: 1000, degreesOfFreedom: 50 }, scale);
    const rows = budget.map(({ source, type, degreesOfFreedom }) => [source, type, degreesOfFreedom]);
    expect(rows).toEqual([
      ["fit", "A", 10],
      ["scale", "B", null],
      ["rate", "B", 50],
    ]);
    [3, 4, 1].forEach((expected, k) => {
      expectRelative(budget[k].standardUncertainty, expected, ROUNDING);
    });
  });

  it("gives a magnitude: the same for a front that runs the other way", () => {
    expect(speedFrom({ ...slope, slopePixelsPerFrame: 2 }, rate, scale)).toEqual(
      speedFrom(slope, rate, scale),
    );
  });

  it("twice the rate is twice the speed and twice its uncertainty, with the same degrees of freedom", () => {
    const once = speedFrom(slope, rate, scale);
    const twice = speedFrom(slope, { ...rate, value: 2e6 }, scale);
    expectRelative(twice.value, 2 * once.value, ROUNDING);
    expectRelative(twice.expandedUncertainty, 2 * once.expandedUncertainty, ROUNDING);
    expectRelative(twice.degreesOfFreedom!, once.degreesOfFreedom!, ROUNDING);
  });

  it("an uncertainty of 0 is exact: the speed is complete, with a budget line of 0", () => {
    const speed = speedFrom(slope, rate, { ...scale, standardUncertainty: 0 });
    expect(speed.complete).toBe(true);
    expect(speed.missing).toEqual([]);
    expect(speed.budget.map((line) => line.standardUncertainty > 0)).toEqual([true, false, false]);
    expectRelative(speed.degreesOfFreedom!, 10, ROUNDING);
  });

  it("an uncertainty that is not stated is missing, not 0: named, out of the budget, and the speed not complete", () => {
    const neither = speedFrom(slope, { value: 1e6 }, { value: 5e-4 });
    expect(neither.complete).toBe(false);
    expect([...neither.missing].sort()).toEqual(["rate", "scale"]);
    expect(neither.budget.map(({ source }) => source)).toEqual(["fit"]);
    expectRelative(neither.standardUncertainty, 3, ROUNDING);
    const one = speedFrom(slope, { value: 1e6 }, scale);
    expect(one.complete).toBe(false);
    expect(one.missing).toEqual(["rate"]);
    expect(one.budget.map(({ source }) => source)).toEqual(["fit", "scale"]);
  });

  it("infinite degrees of freedom are null, in the budget and in the result, with the normal factor", () => {
    const speed = speedFrom({ ...slope, degreesOfFreedom: Number.POSITIVE_INFINITY }, rate, scale);
    expect(speed.degreesOfFreedom).toBeNull();
    expect(speed.budget.map((line) => line.degreesOfFreedom)).toEqual([null, null, null]);
    // the normal quantile at 97.5 %, printed to seven digits in any table
    expectRelative(speed.coverageFactor, 1.959964, 1e-6);
  });

  it("a slope of zero is a speed of zero with the uncertainty of the fit alone", () => {
    const speed = speedFrom({ ...slope, slopePixelsPerFrame: 0 }, rate, scale);
    expect(speed.value).toBe(0);
    expectRelative(speed.standardUncertainty, 3, ROUNDING);
  });

  const bad: [string, Partial<SlopeEstimate>, Partial<Quantity>, Partial<Quantity>, string][] = [
    ["a rate of zero", {}, { value: 0 }, {}, "rateHz must be finite and > 0, got 0"],
    ["an infinite rate", {}, { value: 1 / 0 }, {}, "rateHz must be finite and > 0, got Infinity"],
    ["a negative scale", {}, {}, { value: -2e-5 }, "metresPerPixel must be finite and > 0, got -0.00002"],
    ["a scale not a number", {}, {}, { value: Number.NaN }, "metresPerPixel must be finite and > 0, got NaN"],
    [
      "a negative uncertainty",
      {},
      { standardUncertainty: -1 },
      {},
      "rateHz.standardUncertainty must be finite and >= 0, got -1",
    ],
    [
      "an infinite uncertainty",
      {},
      {},
      { standardUncertainty: 1 / 0 },
      "metresPerPixel.standardUncertainty must be finite and >= 0, got Infinity",
    ],
    [
      "no degrees of freedom of the scale",
      {},
      {},
      { degreesOfFreedom: 0 },
      "metresPerPixel.degreesOfFreedom must be > 0, got 0",
    ],
    [
      "a slope not a number",
      { slopePixelsPerFrame: Number.NaN },
      {},
      {},
      "slopePixelsPerFrame must be finite, got NaN",
    ],
    [
      "an uncertainty of the slope not a number",
      { standardUncertaintyPixelsPerFrame: Number.NaN },
      {},
      {},
      "standardUncertaintyPixelsPerFrame must be finite and >= 0, got NaN",
    ],
    [
      "no degrees of freedom of the slope",
      { degreesOfFreedom: 0 },
      {},
      {},
      "degreesOfFreedom must be > 0, got 0",
    ],
  ];
  it.each(bad)("refuses %s, and says what was given", (_, badSlope, badRate, badScale, message) => {
    const measure = () =>
      speedFrom({ ...slope, ...badSlope }, { ...rate, ...badRate }, { ...scale, ...badScale });
    expect(measure).toThrow(RangeError);
    expect(measure).toThrow(message);
  });
});

describe("effectiveDegreesOfFreedom", () => {
  it("adds up for equal contributions: twice 5 is 10", () => {
    expectRelative(effectiveDegreesOfFreedom([3, 3], [5, 5]), 10, ROUNDING);
  });

  it("is infinite where all are, and where nothing contributes", () => {
    expect(effectiveDegreesOfFreedom([1, 2], [1 / 0, 1 / 0])).toBe(Number.POSITIVE_INFINITY);
    expect(effectiveDegreesOfFreedom([0, 0], [3, 3])).toBe(Number.POSITIVE_INFINITY);
  });

  it("does not hang on the unit, however small", () => {
    const [small, large] = [1e-90, 1e90].map((unit) => effectiveDegreesOfFreedom([unit, 2 * unit], [3, 7]));
    expectRelative(small, 25 / (1 / 3 + 16 / 7), ROUNDING);
    expectRelative(large, small, ROUNDING);
  });

  it("refuses lengths that differ and degrees of freedom that are not > 0", () => {
    expect(() => effectiveDegreesOfFreedom([1, 2], [3])).toThrow(
      new RangeError("degreesOfFreedom must have the length of contributions, 2, got 1"),
    );
    expect(() => effectiveDegreesOfFreedom([1, 0], [3, 0])).toThrow(
      new RangeError("degreesOfFreedom[1] must be > 0, got 0"),
    );
  });
});
