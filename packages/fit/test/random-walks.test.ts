import { expect, it } from "vitest";
import { randomWalks } from "../src/random-walks.js";

it("random walks have steps of the variance 15 d² / n for a departure d over n steps, whatever the grid", () => {
  const x = Array.from({ length: 41 }, (_, i) => 100 + i);
  const walks = randomWalks(x, [Math.log(0.1), Math.log(10)]);
  expect(walks.reduce((sum, { logStep }) => sum + logStep, 0)).toBeGreaterThanOrEqual(Math.log(100));
  walks.forEach(({ tau, correlation, logStep }, k) => {
    const departure = 0.1 * Math.exp((k + 0.5) * logStep);
    const steps = 2 * tau ** 2 * (1 - correlation);
    expect(Math.abs(steps / ((15 * departure ** 2) / 40) - 1)).toBeLessThan(1e-9);
    // What would bring it back in the time it is seen is nothing.
    expect(correlation ** 40).toBeGreaterThan(0.99);
  });
});
