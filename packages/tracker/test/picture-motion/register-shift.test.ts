import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { registerShift } from "../../src/picture-motion/register-shift.js";
import { splineLine } from "../../src/picture-motion/spline-line.js";

/** Invented texture, no part of it shorter than 6 px. */
const texture = (x: number) =>
  100 + 6 * Math.sin(x / 1.1) + 4 * Math.sin(x / 2.3 + 1) + 5 * Math.sin(x / 4.7 + 2);
const samples = (count: number, of: (x: number) => number) =>
  Float64Array.from({ length: count }, (_, x) => of(x));

describe("splineLine", () => {
  it("passes through its samples, and between them follows a sine of 14 px to 1e-3 and its slope to 5e-3", () => {
    const spline = splineLine(
      samples(60, (x) => Math.sin(x / 2.3)),
      0,
    );
    for (let x = 10; x < 50; x += 0.13) {
      expect(Math.abs(spline.valueAt(x) - Math.sin(x / 2.3))).toBeLessThan(1e-3);
      expect(Math.abs(spline.slopeAt(x) - Math.cos(x / 2.3) / 2.3)).toBeLessThan(5e-3);
    }
    for (let x = 0; x < 60; x++) expect(Math.abs(spline.valueAt(x) - Math.sin(x / 2.3))).toBeLessThan(1e-9);
  });
});

describe("registerShift", () => {
  const known = splineLine(samples(120, texture));

  it.each([-3.4, -0.37, 0, 0.5, 2.21])("finds a shift of %f px to 0.002 px", (shift) => {
    const line = samples(120, (x) => texture(x - shift));
    const seen = registerShift(known, line, [0, 120], 0, 5);
    expect(Math.abs((seen?.shiftPixels ?? Number.NaN) - shift)).toBeLessThan(0.002);
  });

  it("takes a lamp that dims by a fifth and glow that rises along the path for no shift", () => {
    const line = samples(120, (x) => 0.8 * texture(x - 0.6) + 20 + 0.1 * x);
    const seen = registerShift(known, line, [0, 120], 0, 5);
    expect(Math.abs((seen?.shiftPixels ?? Number.NaN) - 0.6)).toBeLessThan(0.002);
  });

  it("looks only at the samples it is given, and past a few that depart far", () => {
    const line = samples(120, (x) => texture(x - 0.6) + (x < 40 ? 80 : 0) + (x > 70 && x < 76 ? 60 : 0));
    const seen = registerShift(known, line, [40, 120], 0, 5);
    expect(Math.abs((seen?.shiftPixels ?? Number.NaN) - 0.6)).toBeLessThan(0.002);
  });

  it("misses by as much as noise and gradient say, 200 seeds", () => {
    let squares = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const normal = seededNormal(seed);
      const line = samples(120, (x) => texture(x - 0.3) + 2 * normal());
      const seen = registerShift(known, line, [0, 120], 0, 0);
      if (!seen) throw new Error("expected a shift");
      const information = seen.gradient.reduce((sum, g) => sum + g * g, 0);
      squares += ((seen.shiftPixels - 0.3) ** 2 * information) / 4;
    }
    // Chi-squared over 200: its mean has a standard deviation of a tenth.
    expect(Math.abs(squares / 200 - 1)).toBeLessThan(0.35);
  });

  it("tells nothing from eleven samples", () => {
    expect(registerShift(known, samples(120, texture), [0, 11], 0, 5)).toBeNull();
  });
});
