import { describe, expect, it } from "vitest";
import type { Found } from "../../src/one-front/follow-divided.js";
import { seenPositions } from "../../src/one-front/seen-positions.js";
import { sortReadings } from "../../src/several-fronts/sort-readings.js";
import { reading } from "../support/reading.js";

const first = reading({ slopePixelsPerFrame: 3 });

describe("sortReadings", () => {
  it("a part of a front that happens to be straight is not the front, though it be surer", () => {
    const whole = reading({ slopePixelsPerFrame: 3, unsure: 0.07 });
    const part = reading({
      slopePixelsPerFrame: 3.2,
      unsure: 0.01,
      change: (position) => (position % 8 ? 0 : 40),
    });
    for (const order of [
      [whole, part],
      [part, whole],
    ])
      expect(sortReadings(order)).toEqual({ fronts: [whole], others: [part] });
  });

  it.each([
    ["runs the other way", { interceptPixels: 99, slopePixelsPerFrame: -2 }],
    ["is faster, and overtakes", { interceptPixels: -60, slopePixelsPerFrame: 7 }],
    [
      "follows at the same speed and changes in the same sense",
      { interceptPixels: -60, slopePixelsPerFrame: 3 },
    ],
    [
      "follows at the same speed, as sharp, and takes the change back",
      { interceptPixels: -60, slopePixelsPerFrame: 3, change: () => -40 },
    ],
    [
      "starts in the same place and falls back by more than half of what both take to pass",
      // 1 px of blur: half of the reach of 6 px, 3 px, in 1 and in 1.5 frames; apart by more than 1.25 from position 8 on
      { interceptPixels: 0, slopePixelsPerFrame: 2, change: (p: number) => (p < 20 ? 40 : 0) },
    ],
    [
      "covers a part of the path only",
      { interceptPixels: -90, slopePixelsPerFrame: 5, change: (p: number) => (p < 30 ? 40 : 0) },
    ],
  ])("takes a reading that %s for a front of its own", (_, other) => {
    const second = reading({ unsure: 0.01, ...other });
    for (const order of [
      [first, second],
      [second, first],
    ]) {
      const { fronts, others } = sortReadings(order);
      // the surest first, whatever the order
      expect(fronts).toEqual([first, second]);
      expect(others).toEqual([]);
    }
  });

  it.each([
    [
      "passes each position within a rise of the surer one",
      { interceptPixels: 2, slopePixelsPerFrame: 3.01 },
    ],
    [
      "follows at the same speed, twice as blurred, and takes the change back",
      { interceptPixels: -60, slopePixelsPerFrame: 3, blurPixels: 2, change: () => -40 },
    ],
    ["changes a tenth as much", { interceptPixels: 99, slopePixelsPerFrame: -2, change: () => 4 }],
    ["is four times as blurred", { interceptPixels: 99, slopePixelsPerFrame: -2, blurPixels: 4 }],
    [
      "is seen at every fourth position only",
      { interceptPixels: 99, slopePixelsPerFrame: -2, change: (p: number) => (p % 4 ? 0 : 40) },
    ],
    [
      "is seen on a tenth of the path",
      { interceptPixels: 99, slopePixelsPerFrame: -2, change: (p: number) => (p < 10 ? 40 : 0) },
    ],
    ["has a speed told to 20 % only", { interceptPixels: 99, slopePixelsPerFrame: -2, unsure: 0.2 }],
  ])("takes none that %s for one", (_, other) => {
    const second = reading({ unsure: 0.01, ...other });
    expect(sortReadings([second, first])).toEqual({ fronts: [first], others: [second] });
  });

  it("takes the sharp one for the front where one that is four times as wide is surer", () => {
    const sharp = reading({ slopePixelsPerFrame: 3, unsure: 0.004 });
    const wide = reading({ slopePixelsPerFrame: 2.8, interceptPixels: -30, blurPixels: 4, unsure: 0.001 });
    expect(sortReadings([wide, sharp])).toEqual({ fronts: [sharp], others: [wide] });
  });

  /** The same with levels that drift, and a glow among them. */
  const withGlow = (found: Found): Found => ({
    ...found,
    window: {
      first: new Int32Array(100),
      end: new Int32Array(100).fill(60),
      drift: () => ({ columns: [], ahead: new Float64Array(60) }),
    },
  });

  it("takes the reading that has the glow ahead before a surer one that has not, and is as unsure as half of what parts them beyond noise", () => {
    const glowing = withGlow(reading({ slopePixelsPerFrame: 3, unsure: 0.004 }));
    const plain = reading({ slopePixelsPerFrame: 3.05, unsure: 0.001 });
    const { fronts, others } = sortReadings([plain, glowing]);
    expect(others).toEqual([plain]);
    expect(fronts).toHaveLength(1);
    const { slopeOpenPixels, ...same } = fronts[0];
    expect(same).toEqual(glowing);
    const beyondNoise = 0.05 ** 2 - (0.004 * 3) ** 2 - (0.001 * 3.05) ** 2;
    expect(slopeOpenPixels).toBeCloseTo(Math.sqrt(beyondNoise) / 2, 12);
  });

  it("does not take it before one of another passage, nor a reading whose levels leave more open before a surer one", () => {
    const behind = reading({ slopePixelsPerFrame: 3, interceptPixels: -60, unsure: 0.004 });
    expect(sortReadings([withGlow(behind), first]).fronts[0]).toEqual(first);
    const open = {
      ...reading({ slopePixelsPerFrame: 3, interceptPixels: -60, unsure: 0.001 }),
      slopeOpenPixels: 0.03,
    };
    expect(sortReadings([open, first]).fronts[0]).toEqual(first);
  });

  it("leaves a front as sure as it is where another reading agrees with it", () => {
    const other = reading({ slopePixelsPerFrame: 3.01, unsure: 0.003 });
    expect(sortReadings([first, other])).toEqual({ fronts: [first], others: [other] });
  });

  it("takes changes within one frame of each other for one front", () => {
    const other = (frames: number) =>
      reading({ slopePixelsPerFrame: 20, interceptPixels: -20 * frames, unsure: 0.01 });
    const fast = reading({ slopePixelsPerFrame: 20 });
    expect(sortReadings([fast, other(0.9)]).fronts).toEqual([fast]);
    expect(sortReadings([fast, other(1.1)]).fronts.length).toBe(2);
  });

  it("gives the same for the mirrored path", () => {
    const mirrored = (slope: number, at: number) =>
      reading({ slopePixelsPerFrame: -slope, interceptPixels: 99 - at, unsure: 0.01 });
    const sizes = (found: ReturnType<typeof sortReadings>) => [found.fronts.length, found.others.length];
    for (const [slope, at] of [
      [3.01, 2],
      [5, -50],
      [-2, 99],
    ]) {
      const plain = reading({ slopePixelsPerFrame: slope, interceptPixels: at, unsure: 0.01 });
      const there = sortReadings([first, plain]);
      const back = sortReadings([
        reading({ slopePixelsPerFrame: -3, interceptPixels: 99 }),
        mirrored(slope, at),
      ]);
      expect(sizes(back)).toEqual(sizes(there));
    }
  });

  it("tells three fronts, and leaves the only reading alone even where nothing was followed in it", () => {
    const second = reading({ interceptPixels: 99, slopePixelsPerFrame: -2, unsure: 0.01 });
    const third = reading({ interceptPixels: -100, slopePixelsPerFrame: 6, unsure: 0.02 });
    expect(sortReadings([third, second, first]).fronts).toEqual([first, second, third]);
    const nothing = { ...first, front: null };
    expect(sortReadings([nothing])).toEqual({ fronts: [nothing], others: [] });
    expect(sortReadings([nothing, first])).toEqual({ fronts: [first], others: [nothing] });
  });

  it("calls a position seen where its change is more than six of its own standard uncertainties", () => {
    // known to a quarter of a DN: 1.5 DN
    const { front } = reading({
      slopePixelsPerFrame: 3,
      change: (p) => (p < 40 ? 1.6 : p < 70 ? -1.6 : 1.4),
    });
    expect(seenPositions(front!)).toEqual(Array.from({ length: 70 }, (_, p) => p));
  });
});
