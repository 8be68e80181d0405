import fc from "fast-check";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { seededUniform } from "../../../test/support/seeded-normal.js";
import { type EventSource, findEvents } from "../src/index.js";
import { type InventedEvent, type VirtualTake, virtualTake } from "./support/virtual-take.js";

/** The date on which the properties were first run; other seeds were tried as well. */
const seed = 20261127;
const properties = (numRuns: number) => ({ seed, numRuns, endOnFailure: true });

/** Whole numbers, as often between 10 and 100 as between 1000 and 10,000. */
const logarithmic = (low: number, high: number) =>
  fc
    .double({ min: Math.log(low), max: Math.log(high), noNaN: true })
    .map((value) => Math.round(Math.exp(value)));
const contrasts = fc.tuple(fc.double({ min: 30, max: 70, noNaN: true }), fc.boolean());
const lights: fc.Arbitrary<Partial<VirtualTake>> = fc.oneof(
  fc.constant({}),
  fc.record({
    flicker: fc.record({
      part: fc.double({ min: 0.02, max: 0.1, noNaN: true }),
      period: fc.double({ min: 5, max: 10_000, noNaN: true }),
      uneven: fc.boolean(),
    }),
    drift: fc.double({ min: 0, max: 0.2, noNaN: true }),
  }),
);

/** A take with one event well inside it. */
function takesWith(
  shapes: readonly InventedEvent["shape"][],
  [shortest, longest]: readonly [number, number],
  mostFrames: number,
) {
  return fc
    .record({
      shape: fc.constantFrom(...shapes),
      frames: logarithmic(40 + longest, mostFrames),
      duration: fc.integer({ min: shortest, max: longest }),
      place: fc.double({ min: 0, max: 1, noNaN: true }),
      contrast: contrasts,
      light: lights,
      seed: fc.integer({ min: 1, max: 1e6 }),
    })
    .map(({ shape, frames, duration, place, contrast: [size, dark], light, seed }) => {
      const first = 16 + Math.floor(place * (frames - 32 - duration));
      const event = { shape, first, duration, contrast: dark ? -size : size };
      return { take: { frames, seed, ...light, events: [event] } satisfies VirtualTake, event };
    });
}

const truth = ({ shape, first, duration }: InventedEvent) => ({
  firstFrame: first,
  lastFrame: first + duration - 1,
  kind: shape === "front" || shape === "crack" ? "stays" : "passes",
});
const named = (events: Awaited<ReturnType<typeof findEvents>>["events"]) =>
  events.map(({ firstFrame, lastFrame, kind }) => ({ firstFrame, lastFrame, kind }));

describe("an event anywhere in a take of any length", () => {
  it("is named exactly where it stays, whatever the light does", async () => {
    await fc.assert(
      fc.asyncProperty(takesWith(["front", "crack"], [2, 60], 500_000), async ({ take, event }) => {
        const { events } = await findEvents(virtualTake(take));
        expect(named(events)).toEqual([truth(event)]);
      }),
      properties(18),
    );
  });

  it.each([
    [220, 0, 3000],
    [220, 40, 2700],
    [-160, 0, 1500],
    [-160, 40, 2700],
  ])(
    "is named exactly where it leaves the picture saturated or black, without noise: %i DN, texture of %i, frame %i of 5000",
    async (contrast, texture, first) => {
      const event = { shape: "front", first, duration: 30, contrast } as const;
      const { events } = await findEvents(virtualTake({ frames: 5000, texture, events: [event] }));
      expect(named(events)).toEqual([truth(event)]);
    },
  );

  it("stays where it fills a quarter of the take, and a bare picture shows it by its brightness alone", async () => {
    for (const [frames, first, duration] of [
      [300, 120, 80],
      [150, 40, 60],
    ]) {
      const event = { shape: "front", first, duration, contrast: 60 } as const;
      const { events } = await findEvents(virtualTake({ frames, texture: 0, events: [event] }));
      expect(named(events)).toEqual([truth(event)]);
    }
  });

  it("is named exactly where it passes and is not shorter than the shortest wanted", async () => {
    await fc.assert(
      fc.asyncProperty(takesWith(["stripe", "spot"], [32, 60], 8_000), async ({ take, event }) => {
        const { events } = await findEvents(virtualTake(take));
        expect(named(events)).toEqual([truth(event)]);
      }),
      properties(18),
    );
  });

  it("is named exactly or missed, and nothing else is named, where it is shorter", async () => {
    await fc.assert(
      fc.asyncProperty(takesWith(["stripe", "spot"], [2, 31], 8_000), async ({ take, event }) => {
        const { events } = await findEvents(virtualTake(take));
        expect([[], [truth(event)]]).toContainEqual(named(events));
      }),
      properties(16),
    );
  });

  it.each([1, 3])(
    "is not said to be told to the frame where it begins in frame %i of the take",
    async (first) => {
      const event = { shape: "front", first, duration: 30, contrast: 40 } as const;
      const take = { frames: 1000, rows: 12, columns: 60, events: [event] };
      const { events } = await findEvents(virtualTake(take));
      expect(events.map(({ lastFrame, certainty }) => ({ lastFrame, certainty }))).toEqual([
        { lastFrame: first + 29, certainty: "visible" },
      ]);
    },
  );

  it("may be missed in fewer frames than are wanted about it, and then none is named as the weakest", async () => {
    const event = { shape: "front", first: 5, duration: 3, contrast: 60 } as const;
    for (const [frames, isTold] of [
      [3, false],
      [10, false],
      [16, false],
      [17, true],
    ] as const) {
      const { weakestSeen } = await findEvents(virtualTake({ frames, events: [event] }));
      expect([frames, weakestSeen !== null]).toEqual([frames, isTold]);
    }
  });

  it("is seen where it is no weaker than the weakest that the result names", async () => {
    await fc.assert(
      fc.asyncProperty(
        takesWith(["spot"], [40, 60], 6_000),
        fc.double({ min: 0.5, max: 4, noNaN: true }),
        async ({ take, event }, noise) => {
          const empty = { ...take, noise, events: [] };
          const { weakestSeen } = await findEvents(virtualTake(empty));
          const { brightness, rows, columns } = weakestSeen!;
          const weakest = { ...event, contrast: brightness, size: Math.max(rows, columns) };
          const { events } = await findEvents(virtualTake({ ...empty, events: [weakest] }));
          expect(events).toHaveLength(1);
          expect(events[0].firstFrame).toBeLessThan(event.first + event.duration);
          expect(events[0].lastFrame).toBeGreaterThanOrEqual(event.first);
        },
      ),
      properties(8),
    );
  });
});

describe("frames read", () => {
  it("of 4,000,000 are fewer than 1000 where something stays, and the frames are exact", async () => {
    const event = { shape: "front", first: 2_718_281, duration: 145, contrast: 60 } as const;
    const source = virtualTake({ frames: 4_000_000, events: [event] });
    const result = await findEvents(source);
    expect(named(result.events)).toEqual([truth(event)]);
    expect(result.framesRead).toBe(source.reads.size);
    expect(result.framesRead).toBeLessThan(1000);
    expect(result.passingSought).toBe(false);
  });

  it("grow by at most sixteen when the take is twice as long, once something stays and it is longer than 2^16", async () => {
    const reads: number[] = [];
    for (const power of [16, 18, 20, 22]) {
      const first = Math.floor(0.37 * 2 ** power);
      const event = { shape: "crack", first, duration: 40, contrast: 50 } as const;
      const result = await findEvents(virtualTake({ frames: 2 ** power, events: [event] }));
      expect(named(result.events)).toEqual([truth(event)]);
      reads.push(result.framesRead);
    }
    // Each end may stop halving 48 to 25 frames apart, which differ by 24.
    for (let i = 1; i < reads.length; i++)
      expect(reads[i] - reads[0]).toBeLessThanOrEqual(2 * 24 + 2 * i * 16);
  });

  it("are every half of the shortest event where only a passing one could be there", async () => {
    const result = await findEvents(virtualTake({ frames: 60_000 }), { shortestFrames: 64 });
    expect(result.passingSought).toBe(true);
    expect(result.framesRead).toBeGreaterThan(60_000 / 32);
    expect(result.framesRead).toBeLessThan(60_000 / 32 + 512 + 64);
  });
});

describe("what is no event", () => {
  it("noise, flicker and lamps that warm up name none in any of 100 takes", async () => {
    for (let number = 1; number <= 100; number++) {
      const draw = seededUniform(seed + number);
      const take = {
        frames: Math.round(100 * 10 ** draw()),
        seed: number,
        noise: 1 + 3 * draw(),
        flicker: { part: 0.1 * draw(), period: 5 * 1000 ** draw(), uneven: draw() < 0.5 },
        drift: 0.3 * draw(),
      };
      const { events, weakestSeen } = await findEvents(virtualTake(take));
      expect(events, JSON.stringify(take)).toEqual([]);
      expect(weakestSeen!.brightness).toBeGreaterThan(0);
    }
  });

  it.each([0, 1, 2, 5, 17])("a take of %i frames gives none and is read to its end", async (frames) => {
    const result = await findEvents(virtualTake({ frames }));
    expect(result).toMatchObject({ frames, framesRead: frames, events: [] });
    if (frames < 3) expect(result.weakestSeen).toBeNull();
  });
});

describe("several events", () => {
  const crack = { shape: "crack", first: 3000, duration: 50, contrast: 60 } as const;
  const dust = { shape: "spot", first: 6000, duration: 90, contrast: 25, size: 4 } as const;
  const stripe = { shape: "stripe", first: 9000, duration: 60, contrast: 60 } as const;

  it("are listed strongest first, dust as the weak event it is", async () => {
    const { events } = await findEvents(virtualTake({ frames: 12_000, events: [crack, dust, stripe] }));
    expect(named(events)).toEqual([truth(stripe), truth(crack), truth(dust)]);
    expect(events[1].strength).toBeGreaterThan(3 * events[2].strength);
  });

  it("that pass are found beside one that stays in a long take when asked for", async () => {
    const take = { frames: 100_000, events: [crack, stripe] };
    expect(named((await findEvents(virtualTake(take))).events)).toEqual([truth(crack)]);
    const thorough = await findEvents(virtualTake(take), { thorough: true });
    expect(named(thorough.events)).toEqual([truth(stripe), truth(crack)]);
  });

  it("are parted where one passes elsewhere that begins before a crack and ends behind it", async () => {
    for (let number = 1; number <= 8; number++) {
      const contrast = number % 2 ? 60 : -60;
      const event = { shape: "crack", first: 3000 + 7 * number, duration: 20 * number, contrast } as const;
      const passing = { shape: "spot", first: 2800, duration: 500, contrast: 25, size: 4 } as const;
      const take = virtualTake({ frames: 6000, seed: number, rows: 48, events: [event, passing] });
      expect(named((await findEvents(take)).events)).toEqual([truth(event), truth(passing)]);
    }
  });

  it("closer together than the shortest are one", async () => {
    const second = { ...crack, shape: "front", first: 3070 } as const;
    const { events } = await findEvents(virtualTake({ frames: 5000, events: [crack, second] }));
    expect(named(events)).toEqual([{ firstFrame: 3000, lastFrame: 3119, kind: "stays" }]);
  });
});

describe("dust in view all the time", () => {
  it("does not hide a change that stays, of which the ends are named within the time a cell takes", async () => {
    for (let number = 1; number <= 12; number++) {
      const draw = seededUniform(seed + number);
      const frames = Math.round(3000 * 10 ** draw());
      const duration = 40 + Math.round(60 * draw());
      const first = Math.round(300 + draw() * (frames - 600 - duration));
      const event = { shape: number % 2 ? "front" : "crack", first, duration, contrast: 60 } as const;
      const take = { frames, seed: number, dust: 1 + (number % 3), events: [event] };
      const [strongest, ...others] = (await findEvents(virtualTake(take))).events;
      const told = JSON.stringify({ take, strongest });
      expect(strongest.kind, told).toBe("stays");
      // A cell is 4 of 64 px wide; a speck that passes one beside it may add as many frames as it takes for that.
      const cell = Math.ceil((4 / 64) * duration) + 2;
      expect(Math.abs(strongest.firstFrame - first), told).toBeLessThanOrEqual(cell + 40);
      expect(Math.abs(strongest.lastFrame - (first + duration - 1)), told).toBeLessThanOrEqual(cell + 40);
      for (const { strength } of others) expect(strength, told).toBeLessThan(strongest.strength / 2);
    }
  });
});

describe("a counter that is written into the picture", () => {
  const picture = { frames: 4000, rows: 80, columns: 120 };
  const crossing = { first: 1711, duration: 60, contrast: 40 };
  const digits = { row: 68, rows: 10, column: 3, columns: 54 };

  /** By how many pixels a rectangle holds another on every side; negative where it does not. */
  const margins = (one: typeof digits, other: typeof digits) => [
    other.row - one.row,
    other.column - one.column,
    one.row + one.rows - other.row - other.rows,
    one.column + one.columns - other.column - other.columns,
  ];

  it.each([
    ["every frame", 1],
    ["microseconds", 2],
    ["now and then", 1 / 500],
  ])(
    "that counts %s is left out, and said: no event of its own, and none is longer for it",
    async (_, counter) => {
      const still = await findEvents(virtualTake({ ...picture, counter }));
      expect(still.events).toEqual([]);
      for (const shape of ["front", "stripe"] as const) {
        const event = { ...crossing, shape };
        const { events, written } = await findEvents(virtualTake({ ...picture, counter, events: [event] }));
        expect(named(events)).toEqual([truth(event)]);
        expect(written).toHaveLength(1);
        // Digits that never change need not be left out.
        const changing = { ...digits, column: 3 + 8 * (7 - String(Math.floor(counter * 3999)).length) };
        changing.columns = digits.column + digits.columns - changing.column;
        expect(Math.min(...margins(written[0], changing))).toBeGreaterThanOrEqual(0);
        expect(written[0].rows * written[0].columns).toBeLessThan((80 * 120) / 3);
      }
    },
  );

  it("is told from what happens there, from dust and from what changes in the middle: these are not left out", async () => {
    const spots = [500, 1500, 2500, 3500].map(
      (first) => ({ shape: "spot", first, duration: 300, contrast: 60 }) as const,
    );
    for (const take of [
      { events: [{ ...crossing, shape: "front" as const }] },
      { dust: 4 },
      { events: spots },
    ])
      expect((await findEvents(virtualTake({ ...picture, ...take }))).written).toEqual([]);
  });

  it.each([
    ["is noisier than the rest", { noise: 5 }],
    ["flickers", { flicker: { part: 0.05, period: 37 } }],
  ])(
    "is told from a lit strip at the edge of a black picture, which %s: what runs there is found",
    async (_, light) => {
      const event = { ...crossing, shape: "front" as const };
      const { events, written } = await findEvents(
        virtualTake({ ...picture, black: 60, texture: 0, ...light, events: [event] }),
      );
      expect(written).toEqual([]);
      expect(events).toHaveLength(1);
      expect(events[0].firstFrame).toBe(1711);
      expect(Math.abs(events[0].lastFrame - 1770)).toBeLessThanOrEqual(1);
    },
  );

  it("is not told in a take that an event may fill", async () => {
    const short = virtualTake({ ...picture, frames: 999, counter: 1 });
    expect((await findEvents(short)).written).toEqual([]);
  });
});

describe("what is looked at", () => {
  const event = { shape: "spot", first: 400, duration: 50, contrast: 60 } as const;

  it("is numbered as the take is, within the frames asked for", async () => {
    const plain = virtualTake({ frames: 1000, events: [event] });
    const source: EventSource = {
      ...plain,
      numbers: plain.numbers.map((i) => 7000 + 3 * i),
      frames: async function* (...wanted) {
        for await (const given of plain.frames(...wanted)) yield { ...given, number: 7000 + 3 * given.index };
      },
    };
    const result = await findEvents(source, { firstFrame: 7601, lastFrame: 9400 });
    expect(result.frames).toBe(600);
    expect(result.events).toMatchObject([{ firstFrame: 8200, lastFrame: 8347 }]);
    expect((await findEvents(source, { lastFrame: 8100 })).events).toEqual([]);
  });

  it("is the band about the path alone", async () => {
    const take = virtualTake({ frames: 600, rows: 48, events: [event] });
    const along = (row: number) => ({
      path: [
        [0, row],
        [63, row],
      ] as const,
      width: 8,
    });
    expect((await findEvents(take, along(4))).events).toHaveLength(1);
    expect((await findEvents(take, along(40))).events).toEqual([]);
    const region = { row: 20, column: 0, rows: 20, columns: 64 };
    expect((await findEvents(take, { region })).events).toEqual([]);
  });

  it("has its greatest activity at the event, in 2048 entries at most", async () => {
    const { activity } = await findEvents(virtualTake({ frames: 8000, events: [{ ...event, first: 5000 }] }));
    expect(activity.length).toBeLessThanOrEqual(2048);
    expect(activity.map(({ frame }) => frame)).toEqual(
      activity.map(({ frame }) => frame).sort((a, b) => a - b),
    );
    const [greatest] = [...activity].sort((a, b) => b.strength - a.strength);
    expect(Math.min(Math.abs(greatest.frame - 5000), Math.abs(greatest.frame - 5050))).toBeLessThanOrEqual(
      16,
    );
  });

  it("is refused where it does not fit the take", async () => {
    const take = virtualTake({ frames: 100 });
    for (const options of [
      { shortestFrames: 0 },
      { width: Number.NaN },
      { firstFrame: 100 },
      { region: { row: 10, column: 0, rows: 10, columns: 64 } },
      {
        path: [
          [3, 3],
          [3, 3],
        ] as const,
      },
      {
        path: [
          [-90, 3],
          [-80, 3],
        ] as const,
      },
    ])
      await expect(findEvents(take, options), JSON.stringify(options)).rejects.toThrow(RangeError);
  });

  it.each([NaN, Infinity])("is refused where a sample is %s, which would hide an event", async (wrong) => {
    const take = virtualTake({ frames: 100 });
    const source: EventSource = {
      ...take,
      numbers: take.numbers.map((i) => 2 * i),
      bitDepth: 32,
      async read(index, region) {
        const frame = await take.read(index, region);
        const samples = Float32Array.from(frame.data);
        if (index === 40) samples[3 * 64 + 7] = wrong;
        return ndarray(samples, frame.shape);
      },
    };
    await expect(findEvents(source)).rejects.toMatchObject({
      code: "samples-not-finite",
      message: expect.stringMatching(/^frame 80 must hold finite samples, got .+ at row 3, column 7 /),
    });
  });

  it("is left at once when called off, with the reason", async () => {
    const control = new AbortController();
    const source = virtualTake({ frames: 100_000 });
    const search = findEvents(source, {
      signal: control.signal,
      onProgress: () => control.abort(new Error("enough")),
    });
    await expect(search).rejects.toThrow("enough");
    expect(source.reads.size).toBeLessThan(20);
  });

  it("is reported stage by stage", async () => {
    const seen: string[] = [];
    await findEvents(virtualTake({ frames: 20_000, events: [{ ...event, first: 9000, duration: 32 }] }), {
      onProgress: ({ stage, done, total }) => done === total && seen.push(stage),
    });
    expect(seen[0]).toBe("sampling");
    expect([...new Set(seen)].sort()).toEqual(["passing", "refining", "sampling"]);
  });
});
