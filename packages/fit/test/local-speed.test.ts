import { describe, expect, it } from "vitest";
import { localSpeed } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";
import { seededNormal } from "./support/seeded-noise.js";

const times = Array.from({ length: 60 }, (_, i) => 0.5 * i + 1);

describe("localSpeed", () => {
  it("gives the slope of a parabola at every time, to rounding, and of a power in logarithms", () => {
    const parabola = localSpeed(
      times,
      times.map((t) => 3 + 2 * t + 0.1 * t * t),
    );
    const power = localSpeed(
      times,
      times.map((t) => 7 * t ** 0.4),
      { degree: 1, logarithmic: true },
    );
    times.forEach((t, i) => {
      expectRelative(parabola.speeds[i], 2 + 0.2 * t, 1e-9);
      expectRelative(power.speeds[i], 2.8 * t ** -0.6, 1e-9);
    });
  });

  it("holds the speed in its 95 % band at 93-98 % of the times of 200 seeded series", () => {
    let held = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const normal = seededNormal(seed);
      const { speeds, halfWidths } = localSpeed(
        times,
        times.map((t) => 3 + 2 * t + 0.1 * t * t + 0.05 * normal()),
        { standardUncertainty: 0.05 },
      );
      held += times.filter((t, i) => Math.abs(speeds[i] - 2 - 0.2 * t) <= halfWidths[i]).length;
    }
    expect(held / (200 * times.length)).toBeGreaterThan(0.93);
    expect(held / (200 * times.length)).toBeLessThan(0.98);
  });

  it("refuses degrees, windows and logarithms that cannot be", () => {
    expect(() => localSpeed(times, times, { degree: 7 })).toThrow(
      "degree must be a whole number from 1 to 6, got 7",
    );
    expect(() => localSpeed(times, times, { points: 3 })).toThrow(
      "points must be a whole number from 4 to the 60",
    );
    expect(() =>
      localSpeed(
        times,
        times.map((t) => t - 5),
        { logarithmic: true },
      ),
    ).toThrow("must be > 0 for their logarithms");
  });
});
