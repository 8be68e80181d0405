import { describe, expect, it } from "vitest";
import { bandedDiagonal, fitPolynomial, fitWanderingLine, studentFactor } from "../src/index.js";
import { autoregressive, seededNormal } from "./support/seeded-noise.js";

const SERIES = 200;
const POINTS = 60;
const SLOPE = 0.7;

/** Shares of seeded series (seeds 1 to 200) whose 95 % interval holds the true slope: of fitWanderingLine, and of
 *  plain least squares with the scatter of its residuals. */
function coverage(tau: number, correlation: number): { wandering: number; plain: number } {
  const x = Array.from({ length: POINTS }, (_, i) => i);
  const information = { banded: bandedDiagonal(x.map(() => 1)), lost: null };
  let wandering = 0;
  let plain = 0;
  for (let seed = 1; seed <= SERIES; seed++) {
    const normal = seededNormal(seed);
    const wander = autoregressive(POINTS, tau, correlation, normal);
    const y = x.map((v) => 30 + SLOPE * v + wander[v] + normal());
    const line = fitWanderingLine(x, y, information);
    const half = studentFactor(line.degreesOfFreedom) * line.slopeStandardUncertainty;
    if (Math.abs(line.slope - SLOPE) <= half) wandering++;
    const { coefficients, covariance, degreesOfFreedom } = fitPolynomial(x, y, 1);
    if (Math.abs(coefficients[1] - SLOPE) <= studentFactor(degreesOfFreedom) * Math.sqrt(covariance[1][1]))
      plain++;
  }
  return { wandering: wandering / SERIES, plain: plain / SERIES };
}

// One standard deviation of a share of 95 % in 200 series is sqrt(0.95 · 0.05 / 200) = 1.5 %.
describe("the 95 % interval of fitWanderingLine", () => {
  it("holds the truth in at least 90 % of 200 series of white noise (three standard deviations)", () => {
    const { wandering, plain } = coverage(0, 0);
    expect(wandering).toBeGreaterThanOrEqual(0.9);
    expect(plain).toBeGreaterThanOrEqual(0.9);
  });

  it("holds it in 88-99 % under a wander of 1 and 0.8 beneath a reading noise of 1, where plain least squares does in less than 85 %", () => {
    const { wandering, plain } = coverage(1, 0.8);
    expect(wandering).toBeGreaterThanOrEqual(0.88);
    expect(wandering).toBeLessThanOrEqual(0.99);
    expect(plain).toBeLessThan(0.85);
  });

  it("holds the mean step of a random walk in at least 80 % of 60 series, where the spread of its departures alone does in less than half", () => {
    const x = Array.from({ length: 40 }, (_, i) => i);
    const information = { banded: bandedDiagonal(x.map(() => 100)), lost: null };
    let [held, plain, told] = [0, 0, 0];
    for (let seed = 1; seed <= 60; seed++) {
      const normal = seededNormal(seed);
      let walk = 0;
      const y = x.map((v) => {
        walk += 0.6 * normal();
        return SLOPE * v + walk + 0.1 * normal();
      });
      const line = fitWanderingLine(x, y, information);
      const half = studentFactor(line.degreesOfFreedom) * line.slopeStandardUncertainty;
      if (Math.abs(line.slope - SLOPE) <= half) held++;
      if (line.isRandomWalk) told++;
      const { coefficients, covariance, degreesOfFreedom } = fitPolynomial(x, y, 1);
      if (Math.abs(coefficients[1] - SLOPE) <= studentFactor(degreesOfFreedom) * Math.sqrt(covariance[1][1]))
        plain++;
    }
    // About 90 %, since not every walk of 40 steps is told from a wander that returns; of 60 series one standard
    // deviation is 4 %.
    expect(held / 60).toBeGreaterThanOrEqual(0.8);
    expect(told / 60).toBeGreaterThanOrEqual(0.8);
    expect(plain / 60).toBeLessThan(0.5);
  });

  it("takes white noise and a wander that returns for a random walk in less than 5 % of 60 series", () => {
    const x = Array.from({ length: POINTS }, (_, i) => i);
    const information = { banded: bandedDiagonal(x.map(() => 1)), lost: null };
    const taken = (tau: number, correlation: number) =>
      Array.from({ length: 60 }, (_, seed) => seededNormal(seed + 1)).filter((normal) => {
        const wander = autoregressive(POINTS, tau, correlation, normal);
        const y = x.map((v) => SLOPE * v + wander[v] + normal());
        return fitWanderingLine(x, y, information).isRandomWalk;
      }).length;
    expect(taken(0, 0) / 60).toBeLessThan(0.05);
    expect(taken(3, 0.4) / 60).toBeLessThan(0.05);
  });
});
