import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { roundingNoise } from "../../src/streak/rounding-noise.js";
import { sourceOf } from "../support/render.js";
import { expectCovered, frames, track } from "../support/track.js";

/** The curve of IEC 61966-2-1 above its toe, 8 bits: light in DN of stored samples 11 and more, and its inverse. */
const toLight = (sample: number) => 255 * ((sample / 255 + 0.055) / 1.055) ** 2.4;
const toSample = (light: number) => 255 * (1.055 * (light / 255) ** (1 / 2.4) - 0.055);
const stepAt = (light: number) => toLight(toSample(light) + 0.5) - toLight(toSample(light) - 0.5);

describe("roundingNoise", () => {
  it("is a twelfth of a step squared, over the rows averaged", () => {
    expect(roundingNoise({ bitDepth: 8 }, 4, Float64Array.of(3, 9))).toBe(Math.sqrt(1 / 48));
  });

  it("is the root mean square over the streak where the steps differ", () => {
    const source = { bitDepth: 8, roundingStep: (value: number) => value / 10 };
    // Steps 1 and 7: (1 + 49) / 2 = 25, over 12 · 3.
    expect(roundingNoise(source, 3, Float64Array.of(10, 70))).toBe(Math.sqrt(25 / 36));
  });

  it("is the scatter that rounding gives to samples that went through the curve", () => {
    const normal = seededNormal(5);
    // Levels spread over many steps, so that the rounding errors are even and independent.
    const light = Float64Array.from({ length: 20_000 }, (_, i) => 20 + (200 * i) / 20_000 + normal());
    const squares = light.reduce(
      (sum, value) => sum + (toLight(Math.round(toSample(value))) - value) ** 2,
      0,
    );
    const expected = roundingNoise({ bitDepth: 8, roundingStep: stepAt }, 1, light);
    // A standard deviation of 20,000 rounding errors is good to 0.3 %.
    expect(Math.abs(Math.sqrt(squares / light.length) / expected - 1)).toBeLessThan(0.02);
  });
});

describe("a front in light made of rounded samples", () => {
  it("is followed with an interval that holds the truth, though the steps are of 0.5 to 1.7 DN", async () => {
    const normal = seededNormal(9);
    const front = (number: number) => 10 + 1.37 * number;
    const size = { numbers: frames(24), rows: 8, columns: 60 };
    const stored = (column: number, number: number) => {
      const light = 20 + 70 * (1 + Math.tanh((front(number) - column) / 1.5)) + 0.3 * normal();
      return toLight(Math.round(toSample(light)));
    };
    const source = sourceOf({ ...size, bitDepth: 32 }, (_row, column, number) => stored(column, number));
    const found = await track({ ...source, bitDepth: 8, roundingStep: stepAt });
    expectCovered(found, 1.37);
  });
});
