import { describe, expect, it } from "vitest";
import { type ArrivalMap, localMotion } from "../src/index.js";

/** An invented map by its arrivals, all as sure. */
function mapOf(at: (x: number, y: number) => number, uncertainty: number): ArrivalMap {
  const [rows, columns] = [60, 160];
  const arrival = Float64Array.from({ length: rows * columns }, (_, k) =>
    at(k % columns, Math.floor(k / columns)),
  );
  return {
    cell: 1,
    rows,
    columns,
    arrival,
    standardUncertainty: new Float64Array(rows * columns).fill(uncertainty),
    change: new Float64Array(rows * columns).fill(10),
    kind: "stays",
    polarity: "bright",
    earliest: 0,
    latest: 100,
    levelFrames: 4,
    halfGapFrames: 3,
    noise: 1,
    flickers: false,
  };
}

const said = (values: Float64Array) =>
  [...values].filter((value) => !Number.isNaN(value)).sort((a, b) => a - b);
const medianOf = (values: Float64Array) => {
  const sorted = said(values);
  return sorted[sorted.length >> 1];
};

describe("localMotion", () => {
  it("of a straight front is its speed and direction everywhere", () => {
    const angle = (-130 * Math.PI) / 180;
    const motion = localMotion(
      mapOf((x, y) => 100 + (x * Math.cos(angle) + y * Math.sin(angle)) / 2.5, 0.01),
    );
    for (const speed of said(motion.speed)) expect(Math.abs(speed / 2.5 - 1)).toBeLessThan(1e-9);
    for (const degrees of said(motion.angle)) expect(Math.abs(degrees + 130)).toBeLessThan(1e-6);
    expect(said(motion.speed).length).toBeGreaterThan(0.9 * 60 * 160);
  });

  it("of a sharp front that jumps 9.87 px from frame to frame is its speed, not that of one jump", () => {
    // Known to the frame: 1/sqrt(12) of one.
    const jumps = mapOf((x) => Math.floor(x / 9.87), 1 / Math.sqrt(12));
    const motion = localMotion(jumps);
    // Least squares through three such steps, at every phase: 1 % high mostly, at worst 21 % low, at the edge of the picture 28 %.
    expect(Math.abs(medianOf(motion.speed) / 9.87 - 1)).toBeLessThan(0.03);
    const all = said(motion.speed);
    const near = all.filter((speed) => Math.abs(speed / 9.87 - 1) < 0.1);
    expect(near.length).toBeGreaterThan(0.85 * all.length);
    for (const speed of all) expect(Math.abs(speed / 9.87 - 1)).toBeLessThan(0.3);
    expect(all.length).toBeGreaterThan(0.5 * 60 * 160);
  });

  it("says nothing where nothing arrived", () => {
    const motion = localMotion(mapOf(() => Number.NaN, Number.NaN));
    expect(said(motion.speed)).toEqual([]);
  });
});
