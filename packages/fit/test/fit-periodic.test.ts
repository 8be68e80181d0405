import { describe, expect, it } from "vitest";
import { fitPeriodic, studentFactor } from "../src/index.js";
import { seededNormal } from "./support/seeded-noise.js";

const times = (count: number) => Array.from({ length: count }, (_, k) => k);
const sine = (frequency: number, amplitude: number) => (t: number) =>
  amplitude * Math.sin(2 * Math.PI * frequency * t + 0.7);
/** Lit for a share of the period. */
const lamp = (frequency: number, height: number, share: number) => (t: number) => {
  // The mean over an exposure of a third of the interval, in closed form.
  const lit = (x: number) => Math.floor(x) * share + Math.min(share, x - Math.floor(x));
  const phase = frequency * t + 0.3;
  const open = frequency / 3;
  return (height * (lit(phase + open) - lit(phase))) / open;
};

describe("fitPeriodic", () => {
  it.each<[string, (t: number) => number, number, number]>([
    ["a sine", sine(0.0731, 2), 0.0731, 40],
    ["a sine faster than the frames, by the alias in the range", sine(3.2731, 2), 3.2731, 40],
    ["a lamp that is switched", lamp(0.0412, 3, 0.5), 0.0412, 40],
    ["a lamp in short pulses", lamp(0.137, 6, 0.2), 0.137, 40],
  ])("finds %s with a 95 % interval that holds the truth in about 95 % of 300 draws", (_, signal, truth) => {
    const at = times(160);
    let held = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const normal = seededNormal(seed);
      const values = at.map((t) => 50 + 0.01 * t + signal(t) + 0.8 * normal());
      const fit = fitPeriodic(at, values, { from: 0.95 * truth, to: 1.05 * truth })!;
      const half = studentFactor(fit.degreesOfFreedom) * fit.standardUncertainty;
      if (Math.abs(fit.frequency - truth) < half) held++;
    }
    // 95 % of 300 with three standard deviations of their count, 3.8
    expect(held).toBeGreaterThanOrEqual(285 - 12);
    expect(held).toBeLessThanOrEqual(297);
  });

  it("reaches the least variance of the frequency of a sine in noise", () => {
    const at = times(200);
    const normal = seededNormal(5);
    const values = at.map((t) => sine(0.11, 2)(t) + 0.5 * normal());
    const { standardUncertainty } = fitPeriodic(at, values, { from: 0.05, to: 0.2, mostHarmonics: 1 })!;
    // Rife and Boorstyn (1974), from memory: 6 σ² / (π² A² N (N² − 1)) in cycles²; a slope besides costs a little.
    const bound = Math.sqrt((6 * 0.25) / (Math.PI ** 2 * 4 * 200 * (200 ** 2 - 1)));
    expect(standardUncertainty / bound).toBeGreaterThan(0.85);
    expect(standardUncertainty / bound).toBeLessThan(1.15);
  });

  it("gives the peak to peak of what is periodic, beneath noise and a slope", () => {
    const normal = seededNormal(8);
    const at = times(300).filter((t) => t % 7 !== 3);
    const fit = fitPeriodic(
      at,
      at.map((t) => 0.2 * t + sine(0.21, 1.5)(t) + 0.3 * normal()),
      { from: 0.02, to: 0.5 },
    )!;
    expect(Math.abs(fit.frequency - 0.21)).toBeLessThan(5e-4);
    expect(Math.abs(fit.peakToPeak - 3)).toBeLessThan(0.15);
    expect(fit.explained).toBeGreaterThan(0.9);
  });

  it("gives the peak to peak of a few cycles, which a slope alone would take a part of", () => {
    const at = times(100);
    const fit = fitPeriodic(
      at,
      at.map((t) => 0.02 * t + sine(0.0221, 1)(t)),
      { from: 0.01, to: 0.5 },
    )!;
    expect(Math.abs(fit.frequency - 0.0221)).toBeLessThan(1e-6);
    expect(Math.abs(fit.peakToPeak - 2)).toBeLessThan(0.01);
  });

  it("finds nothing in noise, but in a few of a hundred series, nor in few values or none that vary", () => {
    let found = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const normal = seededNormal(1000 + seed);
      if (fitPeriodic(times(200), times(200).map(normal), { from: 0.01, to: 0.5 })) found++;
    }
    expect(found).toBeLessThanOrEqual(3);
    expect(fitPeriodic(times(8), times(8), { from: 0.01, to: 0.5 })).toBeNull();
    expect(
      fitPeriodic(
        times(50),
        times(50).map(() => 3),
        { from: 0.01, to: 0.5 },
      ),
    ).toBeNull();
  });

  it("refuses times without values, and a range that is none", () => {
    expect(() => fitPeriodic([1, 2], [1], { from: 0, to: 1 })).toThrow("of one length, got 2 and 1");
    expect(() => fitPeriodic([1], [1], { from: 1, to: 1 })).toThrow("got 1 to 1");
  });
});
