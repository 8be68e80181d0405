import { axisSampler } from "./axis-sampler.js";
import { Ceiling } from "./ceiling.js";
import { Departures } from "./departures.js";
import { EffectiveRows } from "./effective-rows.js";
import { obliqueSampler } from "./oblique-sampler.js";
import { roundingNoise } from "./rounding-noise.js";
import type { Band } from "./sampler.js";
import type { FrameRegion, FrameSource, Point, Progress, Streak } from "./types.js";

/** Believable least noise of floating-point samples, as a part of the largest. */
const FLOATING_FLOOR = 1e-7;

/** A streak with the parts it was averaged from. */
export interface StripedStreak extends Streak {
  readonly departures: Float64Array;
  /** Numbers of the frames as stored, one for each of `frameNumbers`. */
  readonly storedNumbers: readonly number[];
  /** Streaks of equal parts of the width, from one side of the path to the other; each like `data`. */
  readonly strips: readonly Float64Array[];
  /** Distance of each strip's middle from the path, px, positive to the right hand of the path's direction in
   *  a picture whose rows run down: offset along (−dy, dx). */
  readonly stripOffsetsPixels: readonly number[];
  /** Samples averaged in each strip at each position; 0 where a part of the strip lies outside the picture: its
   *  middle would not be the strip's. `strips` is 0 there. */
  readonly stripCounts: readonly Float64Array[];
  /** Standard deviation that the rounding of stored samples alone gives to a sample of `data`; of floating
   *  point a believable least. */
  readonly roundingNoise: number;
  /** Largest sample read, and the share of all samples that have it. */
  readonly ceiling: { readonly value: number; readonly share: number };
}

export interface ReadOptions {
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
  /** px, shape (end − start,): how far the picture lies to the right hand of the path in each frame. It is read there,
   *  and only where that lies inside the picture in all of them. Default: nowhere but on the path. */
  readonly acrossPixels?: Float64Array;
}

/** Reads the streaks of one or more bands in a single pass over the frames `start` to `end` (indices, end
 *  exclusive). Along rows and columns samples are whole pixels; an oblique path is sampled every pixel of its
 *  length, between pixels by bilinear interpolation, and where the width reaches beyond the picture the rest of it
 *  is averaged.
 *  @throws RangeError with the code `samples-not-finite` on a sample that is not a finite number; the signal's reason when aborted */
export async function readStreaks(
  source: FrameSource,
  bands: readonly Band[],
  start: number,
  end: number,
  options: ReadOptions = {},
): Promise<StripedStreak[]> {
  const { acrossPixels } = options;
  const moves = acrossPixels && ([Math.min(...acrossPixels), Math.max(...acrossPixels)] as const);
  const samplers = bands.map((band) =>
    isAlongAxis(band.path) && !moves ? axisSampler(band, source) : obliqueSampler(band, source, moves),
  );
  const region = enclose(samplers.map((sampler) => sampler.region));
  const frames = end - start;
  const strips = samplers.map(({ offsets, positions }) =>
    offsets.map(() => new Float64Array(frames * positions)),
  );
  const ceilings = samplers.map(() => new Ceiling());
  const departures = samplers.map(
    ({ width, positions }) => new Departures(width, positions, pixelFloor(source.bitDepth)),
  );
  const effectiveRows = samplers.map(({ width, positions }) => new EffectiveRows(width, positions));
  const pixels = samplers.map(({ width, positions }) => new Float32Array(width * positions));
  const frameNumbers: number[] = [];
  const read = options.signal ? { signal: options.signal } : {};
  for await (const { number, frame } of source.frames({ start, end }, region, read)) {
    samplers.forEach(({ sample, region: part }, k) => {
      const top = part.row - region.row;
      const left = part.column - region.column;
      const picture = frame.hi(top + part.rows, left + part.columns).lo(top, left);
      const across = acrossPixels?.[frameNumbers.length];
      sample(picture, strips[k], frameNumbers.length, across);
      ceilings[k].addFrame(picture);
      samplers[k].pixels(picture, pixels[k], across);
      departures[k].addFrame(pixels[k]);
      effectiveRows[k].addFrame(pixels[k]);
    });
    options.signal?.throwIfAborted();
    samplers.forEach(({ positions }, k) => {
      const from = frameNumbers.length * positions;
      if (!strips[k].every((strip) => isFiniteWithin(strip, from, from + positions)))
        throw Object.assign(
          new RangeError(`frame ${number} must hold finite samples along the path, got NaN or infinity`),
          { code: "samples-not-finite" },
        );
    });
    frameNumbers.push(number);
    options.onProgress?.({
      stage: acrossPixels ? "reading again" : "reading",
      done: frameNumbers.length,
      total: frames,
    });
  }
  return samplers.map(({ positions, path, width, offsets, counts }, k) => {
    const data = averageOf(strips[k], counts);
    const stripCounts = clearIncomplete(strips[k], counts);
    return {
      data,
      departures: departures[k].streak(),
      shape: [frames, positions] as const,
      frameNumbers,
      storedNumbers: frameNumbers,
      path,
      width,
      effectiveRows: effectiveRows[k].count(),
      strips: strips[k],
      stripOffsetsPixels: offsets,
      stripCounts,
      roundingNoise: roundingNoise(source, width, data),
      ceiling: { value: ceilings[k].value, share: ceilings[k].share },
    };
  });
}

function isFiniteWithin(values: Float64Array, from: number, end: number): boolean {
  for (let at = from; at < end; at++) if (!Number.isFinite(values[at])) return false;
  return true;
}

/** Clears the strips where they are not whole.
 *  @returns the counts, 0 there */
function clearIncomplete(strips: readonly Float64Array[], counts: readonly Float64Array[]): Float64Array[] {
  return counts.map((count, k) => {
    const whole = count.reduce((most, value) => Math.max(most, value), 0);
    const kept = count.map((value) => (value === whole ? value : 0));
    const strip = strips[k];
    for (let at = 0, p = 0; at < strip.length; at++, p = p + 1 === kept.length ? 0 : p + 1)
      if (kept[p] === 0) strip[at] = 0;
    return kept;
  });
}

/** Smallest believable noise of one pixel, from the brightest sample. */
function pixelFloor(bitDepth: number): (brightest: number) => number {
  return bitDepth <= 16
    ? () => Math.sqrt(1 / 12)
    : (brightest) => Math.max(1e-30, FLOATING_FLOOR * Math.abs(brightest));
}

function isAlongAxis([[x1, y1], [x2, y2]]: readonly [Point, Point]): boolean {
  return x1 === x2 || y1 === y2;
}

function averageOf(strips: readonly Float64Array[], counts: readonly Float64Array[]): Float64Array {
  const positions = counts[0].length;
  const total = new Float64Array(positions);
  for (const count of counts) for (let p = 0; p < positions; p++) total[p] += count[p];
  const mean = new Float64Array(strips[0].length);
  strips.forEach((strip, k) => {
    for (let at = 0, p = 0; at < mean.length; at++, p = p + 1 === positions ? 0 : p + 1)
      mean[at] += (strip[at] * counts[k][p]) / total[p];
  });
  return mean;
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
