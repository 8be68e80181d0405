import { describe, expect, it } from "vitest";
import { bandedDiagonal, type Information, lineEvidence } from "../src/index.js";
import { autoregressive, seededNormal } from "./support/seeded-noise.js";

const readings = (count: number, standardUncertainty: number): Information => ({
  banded: bandedDiagonal(Array.from({ length: count }, () => standardUncertainty ** -2)),
  lost: null,
});
const times = Array.from({ length: 40 }, (_, i) => i);
/** From the middle on an interval later. */
const later = times.map((t) => (t < 20 ? t : t + 1));

describe("lineEvidence", () => {
  it("speaks for the times at which the positions lie on one line", () => {
    const normal = seededNormal(5);
    const positions = times.map((t) => 3 + 1.5 * t + 0.1 * normal());
    const right = lineEvidence(times, positions, readings(40, 0.1));
    expect(right - lineEvidence(later, positions, readings(40, 0.1))).toBeGreaterThan(20);
  });

  it("says little where the positions wander by as much as the times move them", () => {
    const normal = seededNormal(6);
    const wander = autoregressive(40, 1, 0.8, normal);
    const positions = times.map((t, i) => 3 + 0.5 * t + wander[i] + 0.05 * normal());
    const apart =
      lineEvidence(times, positions, readings(40, 0.05)) - lineEvidence(later, positions, readings(40, 0.05));
    expect(Math.abs(apart)).toBeLessThan(3);
  });

  it("does not change with a shift of the positions or of the times", () => {
    const normal = seededNormal(7);
    const positions = times.map((t) => 1.5 * t + 0.1 * normal());
    const here = lineEvidence(times, positions, readings(40, 0.1));
    const there = lineEvidence(
      times.map((t) => t - 500),
      positions.map((p) => p + 1000),
      readings(40, 0.1),
    );
    expect(Math.abs(here - there)).toBeLessThan(1e-6);
  });

  it("is nothing where the information determines no line", () => {
    expect(lineEvidence([1, 2, 3], [1, 2, 3], readings(3, Number.POSITIVE_INFINITY))).toBe(
      Number.NEGATIVE_INFINITY,
    );
  });
});
