import { describe, expect, it } from "vitest";
import { seededNormal, seededUniform } from "../../../../test/support/seeded-normal.js";
import { departureStreak } from "../../src/find/follow-channels.js";
import { type FrameSource, trackFront } from "../../src/index.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import { Departures } from "../../src/streak/departures.js";
import { readDepartures } from "../../src/streak/read-departures.js";
import { readStreaks } from "../../src/streak/read-streak.js";
import { render, sourceOf } from "../support/render.js";
import { expectCovered, frames, track } from "../support/track.js";

const rows = 16;
const columns = 100;
const numbers = frames(60);
const path = [
  [0, 7.5],
  [99, 7.5],
] as const;
const along = { path, width: rows };
const front = (frame: number) => 5 + 1.4 * frame;

/** An invented cloud: short cracks, each beside one of the other sign, that open a little behind the front and flash;
 *  averaged across the path they cancel exactly. */
function cloud({
  light = (_number: number): number => 1,
  bitDepth = 8 as const,
  seed = 1,
} = {}): FrameSource {
  const uniform = seededUniform(seed);
  const cracks = Array.from({ length: 160 }, () => ({
    row: 2 * Math.floor(8 * uniform()),
    from: columns * uniform(),
    length: 3 + 9 * uniform(),
    lag: -Math.log(1 - uniform()),
    height: (uniform() < 0.5 ? -1 : 1) * (8 + 20 * uniform()),
    phase: 6.28 * uniform(),
  }));
  const normal = seededNormal(seed);
  return sourceOf({ numbers, rows, columns, bitDepth }, (row, column, number) => {
    let change = 0;
    for (const { row: own, from, length, lag, height, phase } of cracks)
      if ((row === own || row === own + 1) && column >= from && column < from + length)
        if (column < front(number) - lag)
          change += (row === own ? height : -height) * (0.75 + 0.25 * Math.sin(number / 2 + phase));
    return (100 + change) * light(number) + 2 * normal();
  });
}

describe("a cloud of cracks of either sign", () => {
  it("is followed in the departures, and brightness alone shows no front to follow", async () => {
    const found = await track(cloud(), along);
    expect(found.channel).toBe("departures");
    expect(found.direction).toEqual([1, 0]);
    expect(found.tilt).toBeNull();
    expect(found.codes).toContain("ragged-front");
    expectCovered(found, 1.4);
    for (const polarity of ["bright", "dark"] as const)
      expect((await trackFront(cloud(), { ...along, polarity })).status).toBe("not-found");
  });

  it("is followed in light that varies by 15 % from frame to frame", async () => {
    const uniform = seededUniform(9);
    const gains = numbers.map(() => 1 + 0.15 * (uniform() - 0.5));
    const found = await track(cloud({ light: (number) => gains[number] }), along);
    expect(found.channel).toBe("departures");
    expectCovered(found, 1.4);
  });

  it("runs the other way where the path does", async () => {
    const there = await track(cloud(), along);
    const back = await track(cloud(), { path: [path[1], path[0]], width: rows });
    expect(back.channel).toBe("departures");
    expect(back.line.slopePixelsPerFrame).toBeCloseTo(-there.line.slopePixelsPerFrame, 6);
  });

  it("is followed between pixels, along an oblique path", async () => {
    const oblique = [
      [2, 4],
      [97, 11],
    ] as const;
    const found = await track(cloud(), { path: oblique, width: 9 });
    expect(found.channel).toBe("departures");
    expectCovered(found, 1.4 / Math.cos(Math.atan2(7, 95)));
  });
});

describe("departures", () => {
  it("leave a front that brightness shows to brightness", async () => {
    const found = await track(render({ numbers, rows, columns, frontAt: front, noise: 4 }), along);
    expect(found.channel).toBe("brightness");
  });

  it.each([
    [
      "a lamp that comes up slowly on one part",
      (x: number, y: number, f: number) => 1 + 0.4 * rise(f) * spot(x, y),
    ],
    [
      "a drift that is stronger at one end",
      (x: number, _: number, f: number) => 1 + 0.003 * f * (x / columns),
    ],
    ["a change of exposure", (_x: number, _y: number, f: number) => (f < 18 ? 1 : 1.3)],
  ])("show no front under %s", async (_, lightAt) => {
    const normal = seededNormal(4);
    const dirt = seededUniform(5);
    const size = { numbers: frames(40), rows, columns: 60, bitDepth: 8 } as const;
    const levels = Array.from({ length: rows * 60 }, () => 80 + 60 * dirt());
    const source = sourceOf(
      size,
      (row, column, number) => levels[row * 60 + column] * lightAt(column, row, number) + 2 * normal(),
    );
    const whole = [
      [0, 7.5],
      [59, 7.5],
    ] as const;
    const band = { path: whole, width: rows };
    const [streak] = await readStreaks(source, [band], 0, 40);
    const [departures] = await readDepartures(source, [band], 0, 40);
    const options = {
      sign: 1,
      exposureFraction: undefined,
      isPathGiven: false,
      pause: async () => {},
    } as const;
    expect((await followDivided(departureStreak({ ...streak, departures }), null, options)).front).toBeNull();
  });

  it("are of one size in every frame under noise alone, whatever a pixel's level and the light", () => {
    const normal = seededNormal(3);
    const positions = 400;
    const departures = new Departures(rows, positions, () => 0.1);
    for (let i = 0; i < 30; i++) {
      const light = 1 + 0.1 * Math.sin(i);
      departures.addFrame(
        Float32Array.from({ length: rows * positions }, (_, k) => (50 + (k % 7) * 20) * light + 3 * normal()),
      );
    }
    const data = departures.streak();
    for (let i = 1; i < 30; i++) {
      const line = data.subarray(i * positions, (i + 1) * positions);
      const mean = line.reduce((sum, value) => sum + value, 0) / positions;
      // A logarithm of a mean of n squares lies 1/n low; the light changes the noise against the levels by a tenth.
      expect(Math.abs(mean + 1 / rows), `frame ${i}`).toBeLessThan(0.25);
      const spread = Math.sqrt(line.reduce((sum, value) => sum + (value - mean) ** 2, 0) / positions);
      expect(spread / Math.sqrt(2 / rows), `frame ${i}`).toBeGreaterThan(0.8);
      expect(spread / Math.sqrt(2 / rows), `frame ${i}`).toBeLessThan(1.25);
    }
  });
});

function rise(frame: number): number {
  return Math.min(1, Math.max(0, (frame - 10) / 25));
}

function spot(x: number, y: number): number {
  return Math.exp(-0.5 * (((x - 30) / 25) ** 2 + ((y - 4) / 12) ** 2));
}
