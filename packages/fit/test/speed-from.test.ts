import { describe, expect, it } from "vitest";
import welchSatterthwaite from "../../../test/published/gum-welch-satterthwaite.json" with { type: "json" };
import {
  effectiveDegreesOfFreedom,
  type Quantity,
  type SlopeContribution,
  type SlopeEstimate,
  speedFrom,
} from "../src/index.js";
import { expectPrinted, expectRelative } from "./support/expect-close.js";

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

  it("gives a line for each part of the scale in place of one, and names it as missing besides", () => {
    const part = (source: string, relativeStandardUncertainty: number) =>
      ({
        source,
        type: "B",
        relativeStandardUncertainty,
        degreesOfFreedom: Number.POSITIVE_INFINITY,
      }) as const;
    const parts = [part("length standard", 0.0024), part("pointing", 0.0032)];
    const speed = speedFrom(slope, rate, { value: 5e-4, standardUncertainty: 2e-6, parts });
    expect(speed.budget.map(({ source }) => source)).toEqual([
      ...["fit", "scale: length standard", "scale: pointing", "rate"],
    ]);
    // 0.24 % and 0.32 % are 0.4 %
    expectRelative(speed.standardUncertainty, 5, ROUNDING);
    expect(speed.missing).toEqual([]);
    const open = speedFrom(slope, rate, { value: 5e-4, parts: [parts[1]] });
    expect(open.missing).toEqual(["scale"]);
    expectRelative(open.standardUncertainty, Math.hypot(3, 3.2), ROUNDING);
    expect(() => speedFrom(slope, rate, { value: 5e-4, parts: [parts[0], parts[0]] })).toThrow(
      'metresPerPixel.parts[1].source must not be named already, got "length standard"',
    );
    expect(() => speedFrom(slope, rate, { value: 5e-4, parts: [part("pointing", -1)] })).toThrow(
      "metresPerPixel.parts[0].relativeStandardUncertainty must be finite and >= 0",
    );
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

  it("shows the wander as a share of the fit's variance, both with the degrees of freedom of the one fit", () => {
    const { budget } = speedFrom({ ...slope, wanderShare: 0.64 }, rate, scale);
    expect(budget.map(({ source, type, degreesOfFreedom }) => [source, type, degreesOfFreedom])).toEqual([
      ["fit", "A", 10],
      ["wander", "A", 10],
      ["scale", "B", null],
      ["rate", "B", null],
    ]);
    // 3 m/s of the fit: 0.6 and 0.8 of it
    expectRelative(budget[0].standardUncertainty, 1.8, ROUNDING);
    expectRelative(budget[1].standardUncertainty, 2.4, ROUNDING);
  });

  it.each([0, 0.1, 0.5, 1])("a wander share of %s changes nothing but the lines shown", (wanderShare) => {
    const { budget: whole, ...once } = speedFrom(slope, rate, scale);
    const { budget: parts, ...split } = speedFrom({ ...slope, wanderShare }, rate, scale);
    expect(split).toEqual(once);
    expect(parts.slice(2)).toEqual(whole.slice(1));
    expectRelative(
      Math.hypot(...parts.map((line) => line.standardUncertainty)),
      once.standardUncertainty,
      ROUNDING,
    );
    // as two independent estimates they would have up to twice the degrees of freedom
    const alone = speedFrom({ ...slope, wanderShare }, rate, { ...scale, standardUncertainty: 0 });
    expectRelative(alone.degreesOfFreedom!, 10, ROUNDING);
  });

  it("without a share, or null, the fit is one line", () => {
    const sources = (wanderShare?: null) =>
      speedFrom({ ...slope, ...(wanderShare === null && { wanderShare }) }, rate, scale).budget.map(
        ({ source }) => source,
      );
    expect(sources()).toEqual(["fit", "scale", "rate"]);
    expect(sources(null)).toEqual(["fit", "scale", "rate"]);
  });

  it("adds a further contribution in quadrature: 3, 4 and 12 m/s are 13, with Welch-Satterthwaite over all", () => {
    const definition: SlopeContribution = {
      source: "front definition",
      type: "B",
      standardUncertaintyPixelsPerFrame: 0.024,
      degreesOfFreedom: 4,
    };
    const speed = speedFrom(slope, rate, scale, [definition]);
    expectRelative(speed.standardUncertainty, 13, ROUNDING);
    // 13⁴ / (3⁴/10 + 12⁴/4), the scale's degrees of freedom being infinite
    expectRelative(speed.degreesOfFreedom!, 28561 / 5192.1, ROUNDING);
    const line = speed.budget[1];
    expect(line).toMatchObject({ source: "front definition", type: "B", degreesOfFreedom: 4 });
    expectRelative(line.standardUncertainty, 12, ROUNDING);
    expect(speed.value).toBe(speedFrom(slope, rate, scale).value);
    expect(speed.complete).toBe(true);
  });

  it("combines and widens as the example of JCGM 100:2008, G.4.1: 0.25, 0.57 and 0.82 % make 1.03 %, 19.0 and 2.09", () => {
    const { relU, nu, published } = welchSatterthwaite.exampleG41;
    const [x1, x2, x3] = relU.map((percent) => percent / 100);
    const speed = speedFrom(
      { slopePixelsPerFrame: 2, standardUncertaintyPixelsPerFrame: 2 * x1, degreesOfFreedom: nu[0] },
      { value: 1e6, standardUncertainty: 1e6 * x2, degreesOfFreedom: nu[1] },
      { value: 5e-4, standardUncertainty: 0 },
      [
        {
          source: "motion",
          type: "A",
          standardUncertaintyPixelsPerFrame: 2 * x3,
          degreesOfFreedom: nu[2],
        },
      ],
    );
    expectPrinted((100 * speed.standardUncertainty) / speed.value, published.ucPercent, 2);
    expectPrinted(speed.degreesOfFreedom!, published.nuEff, 1);
    expectPrinted(speed.coverageFactor, published.t95, 2);
    expectPrinted((100 * speed.expandedUncertainty) / speed.value, published.U95Percent, 1);
  });

  it("the order of the contributions does not matter, and one of zero changes nothing but the lines shown", () => {
    const contribution = (source: string, standardUncertaintyPixelsPerFrame: number) => ({
      source,
      type: "A" as const,
      standardUncertaintyPixelsPerFrame,
      degreesOfFreedom: 7,
    });
    const motion = contribution("motion", 0.01);
    const timeBase = contribution("time base", 0.003);
    const one = speedFrom(slope, rate, scale, [motion, timeBase, contribution("model choice", 0)]);
    const other = speedFrom(slope, rate, scale, [timeBase, motion]);
    expectRelative(one.standardUncertainty, other.standardUncertainty, ROUNDING);
    expectRelative(one.degreesOfFreedom!, other.degreesOfFreedom!, ROUNDING);
    expect(one.budget.map(({ source }) => source)).toEqual([
      ...["fit", "motion", "time base", "model choice", "scale", "rate"],
    ]);
  });

  it.each([
    [{ source: "fit" }, 'further[1].source must not be named already, got "fit"'],
    [{ source: "scale" }, 'further[1].source must not be named already, got "scale"'],
    [{ source: "motion" }, 'further[1].source must not be named already, got "motion"'],
    [
      { standardUncertaintyPixelsPerFrame: -1 },
      "further[1].standardUncertaintyPixelsPerFrame must be finite and >= 0, got -1",
    ],
    [{ degreesOfFreedom: 0 }, "further[1].degreesOfFreedom must be > 0, got 0"],
  ])("refuses the further contribution %o: no effect twice, and none that is no number", (wrong, message) => {
    const motion: SlopeContribution = {
      source: "motion",
      type: "A",
      standardUncertaintyPixelsPerFrame: 0.01,
      degreesOfFreedom: 7,
    };
    const measure = () =>
      speedFrom(slope, rate, scale, [motion, { ...motion, source: "time base", ...wrong }]);
    expect(measure).toThrow(new RangeError(message));
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
    ["a wander share above 1", { wanderShare: 1.5 }, {}, {}, "wanderShare must be 0..1 or null, got 1.5"],
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
