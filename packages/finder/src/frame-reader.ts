import type { NdArray } from "ndarray";
import { type CellGrid, describeFrame } from "./cell-grid.js";
import { checkFinite } from "./check-finite.js";
import type { EventSource, FindProgress, FrameRegion, FrameSamples } from "./types.js";

const IN_FLIGHT = 4;
const MILLISECONDS_BETWEEN_REPORTS = 100;

/** Frames of the part that is looked at, by their place in it, counted as they are read. */
export interface FrameReader {
  readonly count: number;
  readonly region: FrameRegion;
  readonly grid: CellGrid;
  number(at: number): number;
  /** The step to which samples of this value are rounded. */
  roundingStep(value: number): number;
  /** Descriptors of single frames in the order of the places, a few of them read at a time. */
  descriptors(places: readonly number[]): AsyncIterable<Float64Array>;
  /** Frames from `start` up to, not including `end`. */
  run(start: number, end: number): AsyncIterable<{ at: number; frame: NdArray<FrameSamples> }>;
  /** Mean descriptor of those frames. */
  meanDescriptor(start: number, end: number): Promise<Float64Array>;
  report(stage: FindProgress["stage"], done: number, total: number): void;
  framesRead(): number;
}

/** @param first  index of the first frame looked at
 *  @param count  frames looked at */
export function frameReader(
  source: EventSource,
  { first, count, region, grid }: { first: number; count: number; region: FrameRegion; grid: CellGrid },
  { signal, onProgress }: { signal?: AbortSignal; onProgress?: (progress: FindProgress) => void },
): FrameReader {
  const seen = new Set<number>();
  const options = signal ? { signal } : {};
  let reported = Number.NEGATIVE_INFINITY;

  async function describe(at: number): Promise<Float64Array> {
    seen.add(at);
    const frame = await source.read(first + at, region, options);
    checkFinite(frame, source.numbers[first + at]);
    return describeFrame(frame, grid);
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
      yield { at: index - first, frame };
    }
  }

  return {
    count,
    region,
    grid,
    number: (at) => source.numbers[first + at],
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
    framesRead: () => seen.size,
  };
}
