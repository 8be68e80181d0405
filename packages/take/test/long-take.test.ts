import { createHash } from "node:crypto";
import { join } from "node:path";
import fc from "fast-check";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { checkResult } from "../src/schemas/check-result.js";
import { findInTake } from "../src/search/find-in-take.js";
import type { TakeFrames } from "../src/types.js";
import { seededNormal, step, temporaryFolder } from "./render-take.js";
import { writeRawTake } from "./write-raw-take.js";

const exact = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 2e-4, metresPerPixelUncertainty: 0 };

interface InventedTake {
  readonly frames: number;
  readonly rows: number;
  readonly columns: number;
  /** Index of the frame in which a bright front enters at the left; null: none. */
  readonly enters: number | null;
  readonly pixelsPerFrame: number;
  readonly seed: number;
  /** In which what the front leaves falls by e. Default: it stays. */
  readonly decayFrames?: number;
  /** About this frame every column brightens by 80 DN over some 80 frames, each by itself some 30 frames sooner or later. Default: none does. */
  readonly brightensAbout?: number;
}

/** A take without files: frames are worked out when they are asked for; `reads` counts the distinct ones. */
function inventTake(take: InventedTake): TakeFrames & { readonly reads: ReadonlySet<number> } {
  const {
    frames,
    rows,
    columns,
    enters,
    pixelsPerFrame,
    seed,
    decayFrames = Number.POSITIVE_INFINITY,
    brightensAbout = Number.POSITIVE_INFINITY,
  } = take;
  const reads = new Set<number>();
  const later = seededNormal(seed);
  const brightens = Array.from({ length: columns }, () => brightensAbout + 30 * later());
  return {
    name: "invented",
    numbers: Array.from({ length: frames }, (_, i) => i),
    rows,
    columns,
    bitDepth: 8,
    reads,
    async *frames({ start = 0, end = frames } = {}, region = { row: 0, column: 0, rows, columns }) {
      for (let index = start; index < end; index++) {
        reads.add(index);
        const normal = seededNormal(seed * 1_000_003 + index);
        const at = enters === null ? Number.NEGATIVE_INFINITY : (index - enters) * pixelsPerFrame - 3;
        const since = (c: number) => Math.max(0, at - c) / pixelsPerFrame;
        const profile = Float32Array.from(
          { length: columns },
          (_, c) =>
            60 +
            90 * step(c - at) * Math.exp(-since(c) / decayFrames) +
            80 / (1 + Math.exp((brightens[c] - index) / 20)),
        );
        const samples = Uint8Array.from({ length: rows * columns }, (_, k) =>
          Math.round(profile[k % columns] + 2 * normal()),
        );
        const whole = ndarray(samples, [rows, columns]);
        const { row, column } = region;
        const frame = whole.hi(row + region.rows, column + region.columns).lo(row, column);
        yield { index, number: index, frame };
      }
    },
  };
}

describe("measureTake of more than 2,000 frames", async () => {
  const root = await temporaryFolder();
  const file = join(root, "tile.bin");
  const front = { frame: 1700, pixelsPerFrame: 1.2, stays: true };
  const dust = { frame: 600, pixelsPerFrame: 0.8, stays: false, contrast: 30 };
  const raw = await writeRawTake(file, { frames: 2600, events: [front, dust] });

  it("measures about the strongest event as when its frames are given, and says how they were found", async () => {
    const { result, search, track } = await measureTake(file, { ...exact, raw });
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
    const { events } = await findInTake(file, { raw, rateHz: exact.rateHz });
    const { frames, framesRead, shortestFrames, passingSought, weakestSeen } = events;
    expect(result.search).toEqual({
      frames,
      framesRead,
      events: events.events,
      shortestFrames,
      passingSought,
      weakestSeen,
    });
    expect(search?.events).toEqual(events);
    const [strongest, other] = events.events;
    expect(Math.abs(strongest.firstFrame - 1700)).toBeLessThanOrEqual(3);
    const { firstFrame, lastFrame } = result.take;
    const length = strongest.lastFrame - strongest.firstFrame + 1;
    expect([strongest.firstFrame - firstFrame, lastFrame - strongest.lastFrame]).toEqual([length, length]);

    const known = await measureTake(file, { ...exact, raw, firstFrame, lastFrame });
    expect(known.search).toBeNull();
    const { search: _search, warnings, ...rest } = result;
    const { warnings: fewer, ...same } = known.result;
    expect(rest.take.stated).not.toContain("firstFrame");
    expect({ ...rest, take: { ...rest.take, stated: same.take.stated } }).toEqual(same);
    expect(track).toEqual(known.track);
    expect(warnings.filter(({ code }) => code !== "other-events")).toEqual(fewer);
    expect(warnings.find(({ code }) => code === "other-events")?.message).toContain(
      `something happens in frames ${other.firstFrame} to ${other.lastFrame} (passes) too`,
    );
    expect(Math.abs(result.speed!.value - 1.2 * 20)).toBeLessThan(3 * result.speed!.expandedUncertainty);
  });

  it("does not search where the first or the last frame is given, nor a take of 2,000", async () => {
    for (const part of [{ firstFrame: 1500 }, { lastFrame: 2000 }]) {
      const { result, search } = await measureTake(file, { ...exact, raw, ...part });
      expect(search).toBeNull();
      expect(result).not.toHaveProperty("search");
      expect(result.take).toMatchObject(part);
    }
    const take = { frames: 2000, rows: 4, columns: 24, enters: 1200, pixelsPerFrame: 1, seed: 1 };
    expect((await measureTake({ frames: inventTake(take) }, exact)).search).toBeNull();
    expect(
      (await measureTake({ frames: inventTake({ ...take, frames: 2001 }) }, exact)).search,
    ).not.toBeNull();
  });

  it("searches only about the path that is given", async () => {
    const path = [
      [0, 6],
      [63, 6],
    ] as [[number, number], [number, number]];
    const { result } = await measureTake(file, { ...exact, raw, path, width: 4 });
    expect(result).toMatchObject({ status: "measured", take: { width: 4 } });
    // A band of 4 rows instead of 12 shows a change so much less surely.
    const whole = await measureTake(file, { ...exact, raw });
    expect(result.search!.events[0].strength).toBeLessThan(whole.result.search!.events[0].strength);
  });

  it("says not-found and reads few frames where nothing happens, and hashes none", async () => {
    const take = inventTake({
      frames: 50_000,
      rows: 4,
      columns: 24,
      enters: null,
      pixelsPerFrame: 1,
      seed: 2,
    });
    const { result, streak, track, line } = await measureTake({ frames: take }, { ...exact, rateHz: 1e6 });
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
    expect(result).toMatchObject({ status: "not-found", speed: null, notFound: { reason: "no-event" } });
    expect(result.warnings.filter(({ code }) => code === "no-event")).toHaveLength(1);
    expect(result.notFound!.message).toContain("lasts at least 64 frames");
    expect(result.take).toMatchObject({ frames: 50_000, firstFrame: 0, lastFrame: 49_999, width: 4 });
    expect(result.take.framesHash).toBe(createHash("sha256").digest("hex"));
    expect(streak.shape).toEqual([0, 24]);
    expect({ track, line }).toEqual({ track: [], line: null });
    // One in 32 of the take, and samples of the whole.
    expect(take.reads.size).toBe(result.search!.framesRead);
    expect(take.reads.size).toBeLessThan(50_000 / 32 + 600);
  });

  it("does not read an event that takes more frames than memory should hold, and says which frames it is", async () => {
    const take = inventTake({
      frames: 7000,
      rows: 4,
      columns: 4096,
      enters: 2000,
      pixelsPerFrame: 2,
      seed: 3,
    });
    const { result } = await measureTake({ frames: take }, exact);
    expect(result.notFound).toMatchObject({ reason: "event-too-long" });
    const [, first, last, count, most] =
      /from frame (\d+) to frame (\d+): with its surroundings (\d+) frames, more than the (\d+) /.exec(
        result.notFound!.message,
      ) ?? [];
    expect(Math.abs(Number(first) - 2000)).toBeLessThanOrEqual(3);
    expect(Number(count)).toBe(Number(last) - Number(first) + 1 + 2 * 500);
    expect(Number(most)).toBe(Math.floor(2 ** 23 / 4100));
    expect(take.reads.size).toBe(result.search!.framesRead);
    expect(take.reads.size).toBeLessThan(7000 / 2);
  }, 240_000);

  it("gives the speed of a front anywhere in takes of any length, as when its frames are known", async () => {
    const takes = fc.record({
      frames: fc.integer({ min: 2001, max: 12_000 }),
      part: fc.double({ min: 0, max: 1, noNaN: true }),
      pixelsPerFrame: fc.double({ min: 0.3, max: 2.5, noNaN: true }),
      seed: fc.integer({ min: 1, max: 1e6 }),
    });
    await fc.assert(
      fc.asyncProperty(takes, async ({ frames, part, pixelsPerFrame, seed }) => {
        const columns = 48;
        const duration = Math.ceil((columns + 8) / pixelsPerFrame);
        const enters = Math.round(60 + part * (frames - duration - 120));
        const take = inventTake({ frames, rows: 8, columns, enters, pixelsPerFrame, seed });
        const { result } = await measureTake({ frames: take }, exact);
        expect(result.status).toBe("measured");
        const { firstFrame, lastFrame } = result.take;
        expect(firstFrame).toBeLessThanOrEqual(enters - 40);
        expect(lastFrame).toBeGreaterThanOrEqual(enters + duration - 1);
        const known = await measureTake({ frames: take }, { ...exact, firstFrame, lastFrame });
        expect(result.speed).toEqual(known.result.speed);
        expect(result.front).toEqual(known.result.front);
        const { value, expandedUncertainty } = result.speed!;
        // Three intervals of 95 %: some dozen takes must all hold the truth.
        expect(Math.abs(value - 20 * pixelsPerFrame)).toBeLessThan(3 * expandedUncertainty);
      }),
      { seed: 20261128, numRuns: 10, endOnFailure: true },
    );
  });
});

describe("measureTake of a shorter take", () => {
  const take = { rows: 8, columns: 60, enters: 100, pixelsPerFrame: 3, seed: 5, decayFrames: 80 };
  const path: [[number, number], [number, number]] = [
    [0, 4],
    [59, 4],
  ];
  const along = { ...exact, path };

  it("is measured as a whole where the level falls back for hundreds of frames, and not searched", async () => {
    const { result } = await measureTake({ frames: inventTake({ ...take, frames: 420 }) }, along);
    expect(result.search).toBeUndefined();
    expect(result.take).toMatchObject({ firstFrame: 0, lastFrame: 419 });
    expect(Math.abs(result.speed!.value - 3 * 20)).toBeLessThan(2 * result.speed!.expandedUncertainty);
    expect(result.speed!.expandedUncertainty).toBeLessThan(0.001 * 60);
  });

  it("is searched where every place brightens by itself long after, which hides the front in the whole", async () => {
    const { decayFrames: _, ...stays } = take;
    const hidden = inventTake({ ...stays, frames: 700, brightensAbout: 400 });
    const { result } = await measureTake({ frames: hidden }, along);
    expect(result.search?.frames).toBe(700);
    expect(result.take.lastFrame).toBeLessThan(350);
    expect(Math.abs(result.speed!.value - 3 * 20)).toBeLessThan(2 * result.speed!.expandedUncertainty);
    expect(result.speed!.expandedUncertainty).toBeLessThan(0.01 * 60);
  }, 240_000);

  it("finds nothing where nothing runs, and searches no take that is short", async () => {
    const still = await measureTake({ frames: inventTake({ ...take, frames: 420, enters: null }) }, along);
    expect(still.result).toMatchObject({ status: "not-found", notFound: { reason: "no-change" } });
    expect(still.search).toBeNull();
    const short = inventTake({ ...take, frames: 150, enters: null });
    expect((await measureTake({ frames: short }, along)).search).toBeNull();
  });
});
