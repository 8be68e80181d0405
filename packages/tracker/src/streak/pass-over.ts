import type { NdArray } from "ndarray";
import type { FrameRegion, FrameSamples, FrameSource, Point, Progress } from "../types.js";
import { axisSampler } from "./axis-sampler.js";
import { obliqueSampler } from "./oblique-sampler.js";
import type { Band, Sampler } from "./sampler.js";

export interface PassOptions {
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
  /** px, shape (end − start,): how far the picture lies to the right hand of the path in each frame. It is read there,
   *  and only where that lies inside the picture in all of them. Default: nowhere but on the path. */
  readonly acrossPixels?: Float64Array;
}

/** What a pass makes of each frame. */
export interface PassSteps {
  /** Takes up what one band shows of a frame.
   *  @param frame  counted from the first of the pass
   *  @param acrossPixels  where the picture lies in this frame */
  addFrame(band: number, picture: NdArray<FrameSamples>, frame: number, acrossPixels?: number): void;
  /** After all bands of a frame. */
  endFrame?(frame: number, number: number): void;
}

/** Samplers of bands: along rows and columns samples are whole pixels; an oblique path is sampled every pixel of its
 *  length, between pixels by bilinear interpolation, and where the width reaches beyond the picture the rest of it
 *  is averaged. */
export function samplersOf(
  source: FrameSource,
  bands: readonly Band[],
  acrossPixels?: Float64Array,
): readonly Sampler[] {
  const moves = acrossPixels && ([Math.min(...acrossPixels), Math.max(...acrossPixels)] as const);
  return bands.map((band) =>
    isAlongAxis(band.path) && !moves ? axisSampler(band, source) : obliqueSampler(band, source, moves),
  );
}

/** Goes once over the frames `start` to `end` (indices, end exclusive), of which only what encloses the bands is read.
 *  @param stage  as progress calls it
 *  @returns the numbers of the frames
 *  @throws the signal's reason when aborted */
export async function passOver(
  source: FrameSource,
  samplers: readonly Sampler[],
  [start, end]: readonly [number, number],
  stage: string,
  steps: PassSteps,
  { signal, onProgress, acrossPixels }: PassOptions,
): Promise<number[]> {
  const region = enclose(samplers.map((sampler) => sampler.region));
  const numbers: number[] = [];
  for await (const { number, frame } of source.frames({ start, end }, region, signal ? { signal } : {})) {
    samplers.forEach(({ region: part }, k) => {
      const top = part.row - region.row;
      const left = part.column - region.column;
      const picture = frame.hi(top + part.rows, left + part.columns).lo(top, left);
      steps.addFrame(k, picture, numbers.length, acrossPixels?.[numbers.length]);
    });
    signal?.throwIfAborted();
    steps.endFrame?.(numbers.length, number);
    numbers.push(number);
    onProgress?.({ stage, done: numbers.length, total: end - start });
  }
  return numbers;
}

function isAlongAxis([[x1, y1], [x2, y2]]: readonly [Point, Point]): boolean {
  return x1 === x2 || y1 === y2;
}

function enclose(regions: readonly FrameRegion[]): FrameRegion {
  const row = Math.min(...regions.map((r) => r.row));
  const column = Math.min(...regions.map((r) => r.column));
  return {
    row,
    column,
    rows: Math.max(...regions.map((r) => r.row + r.rows)) - row,
    columns: Math.max(...regions.map((r) => r.column + r.columns)) - column,
  };
}
