import { expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { render, sourceOf } from "./support/render.js";
import { expectCovered, expectRelative, frames, track } from "./support/track.js";

it.each([
  { name: "bright, 1.37 px a frame", blurPixels: 2, speed: 1.37, columns: 80, step: 80 },
  { name: "bright and slow, 0.6 px a frame", blurPixels: 3, speed: 0.6, columns: 80, step: 80 },
  { name: "bright and fast, 4.2 px a frame", blurPixels: 1.5, speed: 4.2, columns: 190, step: 80 },
  { name: "dark, 2 px a frame", blurPixels: 4, speed: 2, columns: 90, step: -60 },
])("a band that passes and leaves nothing is followed: $name", async ({ speed, columns, step, ...look }) => {
  const frontAt = (time: number) => 5.2 + speed * time;
  for (const exposureFraction of [0, 0.7]) {
    const source = render({
      numbers: frames(50),
      rows: 16,
      columns,
      frontAt,
      shape: "pulse",
      step,
      noise: 2,
      seed: 3,
      exposureFraction,
      ...look,
    });
    const found = await track(source);
    expectCovered(found, speed);
    expectRelative(found.line.slopePixelsPerFrame, speed, 1e-3);
    expect(found.polarity).toBe(step > 0 ? "bright" : "dark");
  }
});

const alongRow = (columns: number) => [[2, 8] as const, [columns - 3, 8] as const] as const;

it.each([1, 2, 3])(
  "a bright line and a dark one close together tell more than one of them, seed %i",
  async (seed) => {
    const speed = 2.6;
    const take = { rows: 16, columns: 160, frontAt: (time: number) => -12 + speed * time, blurPixels: 2 };
    const source = render({ ...take, numbers: frames(75), shape: "pair", step: 40, noise: 6, seed });
    const found = await track(source, { path: alongRow(160) });
    expectCovered(found, speed);
    expect(found.line.standardUncertaintyPixelsPerFrame).toBeLessThan(
      2 * leastUncertainty(40, 6 / Math.sqrt(15)),
    );
  },
);

/** Of the speed of a pair of 2 px blur whose levels are known, px a frame: 1/sqrt(sum (noise^-1 dB/dv)^2). */
function leastUncertainty(step: number, noise: number): number {
  let information = 0;
  const [seen, middle] = [60, 29.5];
  for (let k = 0; k < seen; k++)
    for (let x = -12; x <= 12; x++) {
      const z = x / 2;
      const slope = (step * (z * z - 1) * Math.exp(-0.5 * z * z)) / 2;
      information += (slope * (k - middle)) ** 2;
    }
  return noise / Math.sqrt(information);
}

it.each([0, 0.3, 0.6])(
  "a pair is told from its smear where the exposure is not known, begun %f px on",
  async (begun) => {
    const frontAt = (time: number) => -11.69 + begun + 3.416 * time;
    const take = {
      numbers: frames(82),
      rows: 72,
      columns: 236,
      frontAt,
      blurPixels: 1.225,
      exposureFraction: 0.5,
    };
    const dirt = (row: number, column: number) =>
      1 + 0.05 * Math.sin(column / 3 + row) * Math.cos(column / 7);
    const source = render({ ...take, shape: "pair", before: 127, step: -105, noise: 2.3, bitDepth: 8, dirt });
    const found = await track(source, {
      path: [
        [0, 36],
        [235, 36],
      ],
    });
    expectCovered(found, 3.416);
    expect(found.line.standardUncertaintyPixelsPerFrame).toBeLessThan(5e-4);
  },
);

it("a pair that gets faster is followed about its bent way", async () => {
  const frontAt = (time: number) => -10 + 2.9 * time + 0.0366 * time ** 2;
  const take = { numbers: frames(58), rows: 16, columns: 240, frontAt, blurPixels: 2.9, seed: 2 };
  const found = await track(render({ ...take, shape: "pair", step: 100, noise: 2 }), { path: alongRow(240) });
  const seen = found.positions.filter(({ used }) => used);
  expect(seen.length).toBeGreaterThan(45);
  for (const { frame, positionPixels } of seen)
    expect(Math.abs(positionPixels + 2 - frontAt(frame))).toBeLessThan(0.5);
});

it("the first of a train of waves is followed, if no position shows it above what follows", async () => {
  const speed = 2.2;
  const normal = seededNormal(4);
  const wave = (behind: number) =>
    behind > 0 ? Math.sin((2 * Math.PI * behind) / 12) * Math.exp(-behind / 36) : 0;
  const source = sourceOf({ numbers: frames(124), rows: 16, columns: 240 }, (_, column, number) => {
    let mean = 0;
    for (let k = -2; k <= 2; k++) mean += wave(-12 + speed * number - column - k / 2) / 5;
    return 120 + 64 * mean + 3 * normal();
  });
  const found = await track(source, { path: alongRow(240) });
  expectCovered(found, speed);
  expectRelative(found.line.slopePixelsPerFrame, speed, 3e-3);
});
