import { describe, expect, it } from "vitest";
import { meanOfRepeats } from "../packages/batch/src/index.js";
import zener from "./published/gum-h5-zener.json" with { type: "json" };

const MICRO = 1e-6;
const { data, published } = zener;

describe("JCGM 100, H.5: ten days of five readings, a day as a take", () => {
  const pooled = Math.sqrt(
    data.dayStandardDeviations.reduce((sum, s) => sum + s * s, 0) / data.dayStandardDeviations.length,
  );
  // Of the mean of a day's readings, as the Guide takes it: from all days together.
  const ofDay = (pooled / Math.sqrt(data.readingsPerDay)) * MICRO;
  const found = meanOfRepeats(
    data.dayMeans.map((value, k) => ({
      name: `day ${k + 1}`,
      value,
      parts: [{ source: "readings", standardUncertainty: ofDay, degreesOfFreedom: null, sharedAs: null }],
    })),
  );
  // Printed to a whole microvolt.
  const inMicrovolts = (value: number) => Math.round(value / MICRO);

  it("has the printed mean and its standard uncertainty, with 9 degrees of freedom", () => {
    expect(found.value.toFixed(6)).toBe(published.mean.toFixed(6));
    expect(inMicrovolts(found.standardUncertainty)).toBe(published.standardUncertaintyOfMeanMicrovolts);
    expect(found.degreesOfFreedom).toBeCloseTo(9, 9);
  });

  it("has the printed parts within and between days", () => {
    expect(inMicrovolts(found.withinTakeStandardDeviation * Math.sqrt(data.readingsPerDay))).toBe(
      published.withinDayMicrovolts,
    );
    // The Guide works from figures that are rounded to a microvolt.
    expect(
      Math.abs(found.betweenTakeStandardDeviation / MICRO - published.betweenDayMicrovolts),
    ).toBeLessThan(1);
    expect(inMicrovolts(found.intermediatePrecision)).toBe(published.standardDeviationOfDayMeansMicrovolts);
  });

  it("differs between days by more than readings explain, as F above its 95 % point does", () => {
    expect(found.chance).toBeLessThan(0.05);
  });
});
