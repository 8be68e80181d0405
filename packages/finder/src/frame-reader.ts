import type { NdArray } from "ndarray";
import { type CellGrid, describeFrame } from "./cell-grid.js";
import { checkFinite } from "./check-finite.js";
import { inLesserLight, type Lamp, noiseRatioAt } from "./lamp.js";
import type { EventSource, FindProgress, FrameRegion, FrameSamples } from "./types.js";
import { withoutWritten } from "./without-written.js";

const IN_FLIGHT = 4;
const MILLISECONDS_BETWEEN_REPORTS = 100;

/** Frames of the part that is looked at, by their place in it, counted as they are read. */
export interface FrameReader {
  readonly count: number;
  readonly region: FrameRegion;
  readonly grid: CellGrid;
  /** Changes of the light that are taken out of the frames, in the order in which they were found. */
  readonly lamps: readonly Lamp[];
  /** The step to which samples of this value are rounded. */
  roundingStep(value: number): number;
  /** Descriptors of single frames in the order of the places, a few of them read at a time. */
  descriptors(places: readonly number[]): AsyncIterable<Float64Array>;
  /** How many times the noise of frames in the least light is that of this one, which was made darker. */
  noiseRatio(at: number): number;
  /** Frames from `start` up to, not including `end`. */
  run(start: number, end: number): AsyncIterable<{ at: number; frame: NdArray<FrameSamples> }>;
  /** Mean descriptor of those frames. */
  meanDescriptor(start: number, end: number): Promise<Float64Array>;
  report(stage: FindProgress["stage"], done: number, total: number): void;
}

/** What of a source is read, and how. */
export interface Reading {
  /** Index of the first frame looked at. */
  readonly first: number;
  /** Frames looked at. */
  readonly count: number;
  readonly region: FrameRegion;
  readonly grid: CellGrid;
  /** Changes of the light to be taken out of the frames. */
  readonly lamps: readonly Lamp[];
  /** Rectangles of the region in which something is written that is left out, as `withoutWritten` takes them. */
  readonly written: readonly FrameRegion[];
  /** Places of the frames read so far, added to. */
  readonly seen: Set<number>;
}

export function frameReader(
  source: EventSource,
  { first, count, region, grid, lamps, written, seen }: Reading,
  { signal, onProgress }: { signal?: AbortSignal; onProgress?: (progress: FindProgress) => void },
): FrameReader {
  const inOneLight = (frame: NdArray<FrameSamples>, at: number) =>
    lamps.reduce((lit, lamp) => inLesserLight(lit, at, lamp, grid), withoutWritten(frame, written));
  const options = signal ? { signal } : {};
  let reported = Number.NEGATIVE_INFINITY;

  async function describe(at: number): Promise<Float64Array> {
    seen.add(at);
    const frame = await source.read(first + at, region, options);
    checkFinite(frame, source.numbers[first + at]);
    return describeFrame(inOneLight(frame, at), grid);
  }

  async function* run(start: number, end: number) {
    signal?.throwIfAborted();
    for await (const { index, frame } of source.frames(
      { start: first + start, end: first + end },
      region,
      options,
    )) {
      signal?.throwIfAborted();
      seen.add(index - first);
      checkFinite(frame, source.numbers[index]);
      yield { at: index - first, frame: inOneLight(frame, index - first) };
    }
  }

  return {
    count,
    region,
    grid,
    lamps,
    noiseRatio: (at) => lamps.reduce((ratio, lamp) => ratio * noiseRatioAt(at, lamp), 1),
    roundingStep(value) {
      if (source.roundingStep) return source.roundingStep(value);
      return source.bitDepth <= 16 ? 1 : 1e-6 * Math.max(1e-30, Math.abs(value));
    },
    async *descriptors(places) {
      const waiting: Promise<Float64Array>[] = [];
      let next = 0;
      while (next < places.length || waiting.length) {
        signal?.throwIfAborted();
        while (next < places.length && waiting.length < IN_FLIGHT) {
          const reading = describe(places[next++]);
          // What fails while an earlier frame is awaited is heard of when its own turn comes.
          reading.catch(() => {});
          waiting.push(reading);
        }
        yield await waiting.shift()!;
      }
    },
    run,
    async meanDescriptor(start, end) {
      const sum = new Float64Array(grid.size);
      let frames = 0;
      for await (const { frame } of run(start, end)) {
        const values = describeFrame(frame, grid);
        for (let k = 0; k < sum.length; k++) sum[k] += values[k];
        frames++;
      }
      return sum.map((value) => value / frames);
    },
    report(stage, done, total) {
      const time = performance.now();
      if (done < total && time - reported < MILLISECONDS_BETWEEN_REPORTS) return;
      reported = time;
      onProgress?.({ stage, done, total });
    },
  };
}
