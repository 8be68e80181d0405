import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findEvents } from "../src/index.js";
import { type InventedLamp, type VirtualTake, virtualTake } from "./support/virtual-take.js";

/** The date on which the properties were first run. */
const seed = 20261129;
const properties = (numRuns: number) => ({ seed, numRuns, endOnFailure: true });

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** None saturates the picture, nor the crack beside it. By a factor, an offset or both, on or off, evenly or more on one side, at once or within some frames. */
const lamps: fc.Arbitrary<Omit<InventedLamp, "first">> = fc
  .record({
    light: fc.oneof(
      fc.record({ factor: fc.oneof(between(0.5, 0.9), between(1.1, 1.5)) }),
      fc.record({ offset: fc.oneof(between(-30, -10), between(10, 30)) }),
      fc.record({ factor: between(1.1, 1.3), offset: between(5, 15) }),
    ),
    uneven: between(-0.6, 0.6),
    rise: fc.oneof(fc.constant(1), fc.integer({ min: 2, max: 8 })),
  })
  .map(({ light, ...how }) => ({ ...light, ...how }));
const lengths = fc.constantFrom(3000, 30_000);
const seeds = fc.integer({ min: 1, max: 1e6 });

async function search(take: VirtualTake) {
  const { events, lightChanges } = await findEvents(virtualTake(take));
  const named = events.map(({ firstFrame, lastFrame, kind }) => ({ firstFrame, lastFrame, kind }));
  return { named, lightChanges };
}

describe("a lamp that is switched on or off", () => {
  it("is no event; it is named as a change of the light, with its frames and how much brighter it is", async () => {
    await fc.assert(
      fc.asyncProperty(lamps, lengths, between(0.1, 0.9), seeds, async (lamp, frames, place, seed) => {
        const first = Math.round(place * frames);
        const { named, lightChanges } = await search({ frames, seed, lamps: [{ ...lamp, first }] });
        expect(named).toEqual([]);
        expect(lightChanges).toHaveLength(1);
        const [{ firstFrame, lastFrame, factor }] = lightChanges;
        // The first and the last frames of a slow rise may not differ from the noise.
        const rise = lamp.rise ?? 1;
        const off = rise === 1 ? 0 : Math.ceil(rise / 4);
        expect(Math.abs(firstFrame - first)).toBeLessThanOrEqual(off);
        expect(Math.abs(lastFrame - (first + rise - 1))).toBeLessThanOrEqual(off);
        // The picture has a mean brightness of 90 DN.
        const truth = (lamp.factor ?? 1) + (lamp.offset ?? 0) / 90;
        expect(Math.abs(factor / truth - 1)).toBeLessThan(0.03);
      }),
      properties(6),
    );
  });

  it("long before or after a crack leaves it the only event, its frames exact", async () => {
    await fc.assert(
      fc.asyncProperty(
        lamps,
        lengths,
        fc.integer({ min: 100, max: 1000 }),
        fc.boolean(),
        seeds,
        async (lamp, frames, apart, isBefore, seed) => {
          const first = Math.round(0.5 * frames);
          const crack = { shape: "crack", first, duration: 50, contrast: 40 } as const;
          const on = { ...lamp, first: isBefore ? first - apart : first + 50 + apart };
          const { named } = await search({ frames, seed, lamps: [on], events: [crack] });
          expect(named).toEqual([{ firstFrame: first, lastFrame: first + 49, kind: "stays" }]);
        },
      ),
      properties(6),
    );
  });

  it("2 to 100 frames before or after a crack or a front is named in its frame, and the ends are exact where they are said to be", async () => {
    let exact = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.record({
          lamp: lamps,
          shape: fc.constantFrom("crack" as const, "front" as const),
          frames: lengths,
          apart: fc.oneof(fc.integer({ min: 2, max: 32 }), fc.integer({ min: 33, max: 100 })),
          isBefore: fc.boolean(),
          contrast: between(15, 60),
          seed: seeds,
        }),
        async ({ lamp, shape, frames, apart, isBefore, contrast, seed }) => {
          const rise = lamp.rise ?? 1;
          const first = Math.round(0.5 * frames);
          const on = { ...lamp, first: isBefore ? first - apart - rise : first + 50 + apart };
          const event = { shape, first, duration: 50, contrast };
          const { events, lightChanges } = await findEvents(
            virtualTake({ frames, seed, lamps: [on], events: [event] }),
          );
          expect(lightChanges).toHaveLength(1);
          const off = rise === 1 ? 0 : Math.ceil(rise / 4);
          expect(Math.abs(lightChanges[0].firstFrame - on.first)).toBeLessThanOrEqual(off);
          expect(events).toHaveLength(1);
          const [{ firstFrame, lastFrame, certainty }] = events;
          if (certainty !== "refined") return;
          expect([firstFrame, lastFrame]).toEqual([first, first + 49]);
          exact++;
        },
      ),
      properties(8),
    );
    expect(exact).toBeGreaterThan(3);
  });

  it.each([
    ["a slow flicker of a twentieth", "crack", { part: 0.05, period: 238 }, 1.4, -50],
    ["a flicker of a fiftieth", "stripe", { part: 0.02, period: 181 }, 0.85, 89],
    ["no flicker, weakly", "stripe", undefined, 1.06, -58],
  ] as const)("beside an event in %s is named in its frame", async (_, shape, flicker, factor, shift) => {
    const event = { shape, first: 1400, duration: 50, contrast: 45 };
    const lamp = { first: 1400 + shift, factor };
    const { named, lightChanges } = await search({
      frames: 3000,
      lamps: [lamp],
      events: [event],
      ...(flicker && { flicker }),
    });
    expect(named).toMatchObject([{ firstFrame: 1400, lastFrame: 1449 }]);
    expect(lightChanges).toMatchObject([{ firstFrame: lamp.first, lastFrame: lamp.first }]);
  });

  it("close to a crack, or while it runs, leaves it the only event, its ends named to ten frames", async () => {
    await fc.assert(
      fc.asyncProperty(
        lamps,
        lengths,
        fc.integer({ min: -40, max: 80 }),
        seeds,
        async (lamp, frames, shift, seed) => {
          const first = Math.round(0.5 * frames);
          const crack = { shape: "crack", first, duration: 50, contrast: 40 } as const;
          const on = { ...lamp, first: first + shift };
          const { named } = await search({ frames, seed, lamps: [on], events: [crack] });
          expect(named).toHaveLength(1);
          expect(named[0].kind).toBe("stays");
          expect(Math.abs(named[0].firstFrame - first)).toBeLessThanOrEqual(10);
          expect(Math.abs(named[0].lastFrame - (first + 49))).toBeLessThanOrEqual(10);
        },
      ),
      properties(8),
    );
  });

  it("brighter in the middle than a smooth light explains leaves no event of its own", async () => {
    const spot = { first: 24_000, factor: 1.5, spot: 0.6 };
    const { named, lightChanges } = await search({ frames: 60_000, lamps: [spot] });
    expect(named).toEqual([]);
    expect(lightChanges).toMatchObject([{ firstFrame: 24_000, lastFrame: 24_000 }]);
  });

  it("and off again is two changes of the light, and of several each is named", async () => {
    const on = { first: 900, offset: 30 };
    const off = { first: 2000, offset: -30, uneven: 0.3 };
    const { named, lightChanges } = await search({ frames: 3000, lamps: [on, off] });
    expect(named).toEqual([]);
    expect(lightChanges.map(({ firstFrame }) => firstFrame)).toEqual([900, 2000]);
    expect(lightChanges[0].factor).toBeGreaterThan(1.2);
    expect(lightChanges[1].factor).toBeLessThan(0.85);
  });

  it("is told from a front only by the frames that the front takes: within one it is the light", async () => {
    const front = { shape: "front", first: 1500, contrast: 60 } as const;
    const within = await search({ frames: 3000, events: [{ ...front, duration: 1 }] });
    expect(within.named).toEqual([]);
    expect(within.lightChanges).toMatchObject([{ firstFrame: 1500, lastFrame: 1500 }]);
    for (const duration of [2, 3, 8]) {
      const { named, lightChanges } = await search({ frames: 3000, events: [{ ...front, duration }] });
      expect(named).toEqual([{ firstFrame: 1500, lastFrame: 1500 + duration - 1, kind: "stays" }]);
      expect(lightChanges).toEqual([]);
    }
  });
});

describe("certainty", () => {
  const crack = { shape: "crack", first: 1500, duration: 50, contrast: 60 } as const;

  it.each([
    ["refined", "single frames show both ends clearly", 60],
    ["visible", "they show them, but hardly above the noise", 15],
    ["bisected", "only the half-way frame is told", 5],
  ])("is %s where %s", async (certainty, _, contrast) => {
    const { events } = await findEvents(virtualTake({ frames: 3000, events: [{ ...crack, contrast }] }));
    expect(events.map((event) => event.certainty)).toEqual([certainty]);
  });

  it("is refined only of ends that are exact, whatever stands how far out of the noise", async () => {
    let [refined, visible] = [0, 0];
    for (const shape of ["crack", "front", "spot", "stripe"] as const)
      for (const contrast of [6, 9, 12, 15, 20, 30, 45])
        for (const duration of [40, 200]) {
          const first = 1200 + contrast;
          const event = { shape, first, duration, contrast };
          for (const found of (await findEvents(virtualTake({ frames: 2500, events: [event] }))).events) {
            if (found.certainty === "visible") visible++;
            if (found.certainty !== "refined") continue;
            refined++;
            const told = JSON.stringify({ event, found });
            expect([found.firstFrame, found.lastFrame], told).toEqual([first, first + duration - 1]);
          }
        }
    expect(refined).toBeGreaterThan(20);
    expect(visible).toBeGreaterThan(10);
  });
});
