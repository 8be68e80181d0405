import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { inspectFootage } from "../src/index.js";
import { sourceOf } from "./support/render.js";
import { frames } from "./support/track.js";

const [ROWS, COLUMNS] = [24, 120];
/** Invented texture that does not repeat. */
const texture = (x: number, y: number) =>
  25 * Math.sin(0.31 * x + 0.4 * Math.sin(0.23 * y)) +
  18 * Math.sin(0.083 * x * 1.7 + 0.52 * y) +
  12 * Math.sin(0.71 * x - 0.19 * y);

interface Scene {
  readonly count?: number;
  readonly noise?: number;
  readonly seed?: number;
  readonly light?: (n: number) => number;
  readonly shift?: (n: number) => readonly [number, number];
  readonly level?: number;
  readonly bitDepth?: 8 | 16;
}

function scene({
  count = 60,
  noise = 3,
  seed = 4,
  light = () => 1,
  shift = () => [0, 0],
  level = 100,
  bitDepth = 8,
}: Scene) {
  const normal = seededNormal(seed);
  const source = { numbers: frames(count), rows: ROWS, columns: COLUMNS, bitDepth };
  return sourceOf(source, (r, c, n) => {
    const [dx, dy] = shift(n);
    return light(n) * (level + texture(c - dx, r - dy)) + noise * normal();
  });
}

const extent = (values: Float64Array) => Math.max(...values) - Math.min(...values);

describe("inspectFootage", () => {
  it.each([1, 3, 8])("tells a noise of %f DN to 5 %, and that of the band", async (noise) => {
    const seen = await inspectFootage(scene({ noise }));
    // Rounding to whole numbers adds 1/12 DN².
    const truth = Math.hypot(noise, Math.sqrt(1 / 12));
    expect(Math.abs(seen.noise!.pixel / truth - 1)).toBeLessThan(0.05);
    expect(Math.abs(seen.noise!.sample / (truth / Math.sqrt(ROWS)) - 1)).toBeLessThan(0.05);
    expect(seen.timing).toEqual({ seen: "steady" });
    expect(seen.light!.gain).toBeNull();
    expect(seen.shift.along!.moves).toBe(false);
    expect(seen.shift.across).toBeNull();
  });

  it.each([0.02, 0.1, 0.4])(
    "tells how the light varies, by %f peak to peak, frame by frame",
    async (depth) => {
      const light = (n: number) => 1 + (depth / 2) * Math.sin((2 * Math.PI * n) / 13);
      const { light: seen } = await inspectFootage(scene({ light, count: 65 }));
      expect(seen!.gain!.length).toBe(65);
      expect(seen!.isShared).toBe(true);
      seen!.gain!.forEach((gain, n) => {
        expect(Math.abs(gain - light(n))).toBeLessThan(5 * seen!.standardUncertainty + 0.01 * depth);
      });
    },
  );

  it("does not take a front that runs over the path for changing light", async () => {
    const normal = seededNormal(3);
    const front = sourceOf(
      { numbers: frames(60), rows: ROWS, columns: COLUMNS, bitDepth: 8 },
      (_, c, n) => (c < 2 * n ? 150 : 80) + 3 * normal(),
    );
    const { light } = await inspectFootage(front);
    expect(light!.isShared).toBe(false);
  });

  it("tells by how much the picture moves, along the path and across it", async () => {
    const along = await inspectFootage(scene({ shift: (n) => [0.02 * n, 0] }));
    expect(along.shift.along!.moves).toBe(true);
    expect(Math.abs(extent(along.shift.along!.shiftPixels) - 0.02 * 59)).toBeLessThan(0.1);
    const across = await inspectFootage(scene({ shift: (n) => [0, 1.2 * Math.sin(n / 8)] }));
    expect(Math.abs(extent(across.shift.across!.shiftPixels) - 2.4)).toBeLessThan(0.25);
  });

  it.each([0, 0.02])(
    "tells a drift of %f px a frame by one edge where there is no texture, 4 seeds",
    async (drift) => {
      const size = { numbers: frames(60), rows: ROWS, columns: COLUMNS, bitDepth: 8 } as const;
      let squares = 0;
      for (let seed = 1; seed <= 4; seed++) {
        const normal = seededNormal(seed);
        const edge = sourceOf(
          size,
          (_, c, n) => 80 + 60 / (1 + Math.exp(-(c - 60 - drift * n))) + 3 * normal(),
        );
        const { along, alongByEdge } = (await inspectFootage(edge)).shift;
        expect(along).toBeNull();
        expect(alongByEdge!.moves).toBe(drift > 0);
        const off = Array.from(alongByEdge!.shiftPixels, (shift, n) => shift - drift * n);
        const mean = off.reduce((sum, value) => sum + value / off.length, 0);
        for (const value of off) squares += ((value - mean) / alongByEdge!.standardUncertaintyPixels) ** 2;
      }
      // 4 times 60 frames tell a standard deviation to 5 %, and its estimate from the residuals is no surer.
      expect(Math.sqrt(squares / 236)).toBeGreaterThan(0.8);
      expect(Math.sqrt(squares / 236)).toBeLessThan(1.25);
    },
  );

  it("names frames that are copies, and the white of the samples", async () => {
    const numbers = frames(40);
    const normal = seededNormal(9);
    let last: number[] = [];
    const copied = new Set([7, 22]);
    const source = sourceOf({ numbers, rows: ROWS, columns: COLUMNS, bitDepth: 16 }, (r, c, n) => {
      if (!copied.has(n)) last[r * COLUMNS + c] = 900 + 3 * texture(c, r) + 9 * normal();
      if (r === ROWS - 1 && c === COLUMNS - 1) last = [...last];
      return last[r * COLUMNS + c];
    });
    const seen = await inspectFootage(source);
    expect(seen.timing).toEqual({ seen: "copies", frames: [7, 22] });
    expect(seen.white).toBe(seen.brightest.value > 1023 ? 4095 : 1023);
    expect((await inspectFootage(scene({ level: 300, bitDepth: 8 }))).brightest).toEqual({
      value: 255,
      share: expect.any(Number),
    });
  });

  it("says nothing of light in the dark, nor of noise and frames of a single one", async () => {
    const dark = scene({ level: -200 });
    expect((await inspectFootage(dark)).light).toBeNull();
    const one = await inspectFootage(scene({ count: 1 }));
    expect(one.noise).toBeNull();
    expect(one.timing).toEqual({ seen: "nothing" });
    expect(one.shift.along).toBeNull();
  });
});
