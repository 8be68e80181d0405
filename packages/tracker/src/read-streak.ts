import type { NdArray } from "ndarray";
import type { FrameRegion, FrameSamples, FrameSource, Point, Progress, Streak } from "./types.js";

/** Parts of the width whose streaks are kept apart, for the tilt of the front. */
const STRIPS = 8;

/** A streak with the parts it was averaged from. */
export interface StripedStreak extends Streak {
  /** Streaks of equal parts of the width, from one side of the path to the other; each like `data`. */
  readonly strips: readonly Float64Array[];
  /** Distance of each strip's middle from the path, px, positive to the right hand of the path's direction in
   *  a picture whose rows run down: offset along (−dy, dx). */
  readonly stripOffsetsPixels: readonly number[];
  /** Largest sample read, and the share of all samples that have it. */
  readonly ceiling: { readonly value: number; readonly share: number };
}

/** Where one streak is read: a path and the width across it. */
export interface Band {
  readonly path: readonly [Point, Point];
  readonly width: number;
}

interface Sampler {
  readonly region: FrameRegion;
  readonly positions: number;
  readonly path: readonly [Point, Point];
  readonly width: number;
  readonly offsets: readonly number[];
  /** Samples averaged in each strip at each position; 0 where a strip lies outside the picture. */
  readonly counts: readonly Float64Array[];
  /** Adds one frame: fills line `frame` of each strip. */
  readonly sample: (picture: NdArray<FrameSamples>, strips: readonly Float64Array[], frame: number) => void;
}

/** Counts the samples at the largest value met. */
class Ceiling {
  value = Number.NEGATIVE_INFINITY;
  private count = 0;
  private total = 0;

  addFrame(picture: NdArray<FrameSamples>): void {
    const [rows, columns] = picture.shape;
    const { data, offset, stride } = picture;
    for (let r = 0; r < rows; r++)
      for (let c = 0, at = offset + r * stride[0]; c < columns; c++, at += stride[1]) {
        if (data[at] > this.value) {
          this.value = data[at];
          this.count = 0;
        }
        if (data[at] === this.value) this.count++;
      }
    this.total += rows * columns;
  }

  get share(): number {
    return this.count / this.total;
  }
}

/** Reads the streaks of one or more bands in a single pass over the frames `start` to `end` (indices, end
 *  exclusive). Along rows and columns samples are whole pixels; an oblique path is sampled every pixel of its
 *  length, between pixels by bilinear interpolation, and where the width reaches beyond the picture the rest of it
 *  is averaged.
 *  @throws RangeError on a sample that is not a finite number; the signal's reason when aborted */
export async function readStreaks(
  source: FrameSource,
  bands: readonly Band[],
  start: number,
  end: number,
  options: { signal?: AbortSignal; onProgress?: (progress: Progress) => void } = {},
): Promise<StripedStreak[]> {
  const samplers = bands.map((band) =>
    isAlongAxis(band.path) ? axisSampler(band, source) : obliqueSampler(band, source),
  );
  const region = enclose(samplers.map((sampler) => sampler.region));
  const frames = end - start;
  const strips = samplers.map(({ offsets, positions }) =>
    offsets.map(() => new Float64Array(frames * positions)),
  );
  const ceilings = samplers.map(() => new Ceiling());
  const frameNumbers: number[] = [];
  const read = options.signal ? { signal: options.signal } : {};
  for await (const { number, frame } of source.frames({ start, end }, region, read)) {
    samplers.forEach(({ sample, region: part }, k) => {
      const top = part.row - region.row;
      const left = part.column - region.column;
      const picture = frame.hi(top + part.rows, left + part.columns).lo(top, left);
      sample(picture, strips[k], frameNumbers.length);
      ceilings[k].addFrame(picture);
    });
    options.signal?.throwIfAborted();
    samplers.forEach(({ positions }, k) => {
      const from = frameNumbers.length * positions;
      if (!strips[k].every((strip) => strip.subarray(from, from + positions).every(Number.isFinite)))
        throw new RangeError(`frame ${number} must hold finite samples along the path, got NaN or infinity`);
    });
    frameNumbers.push(number);
    options.onProgress?.({ stage: "reading", done: frameNumbers.length, total: frames });
  }
  return samplers.map(({ positions, path, width, offsets, counts }, k) => ({
    data: averageOf(strips[k], counts),
    shape: [frames, positions] as const,
    frameNumbers,
    path,
    width,
    strips: strips[k],
    stripOffsetsPixels: offsets,
    ceiling: { value: ceilings[k].value, share: ceilings[k].share },
  }));
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

/** First whole pixel of a band of `width` about `centre`, kept inside 0..size − 1, and how many there are. */
function pixelsAcross(centre: number, width: number, size: number): { first: number; count: number } {
  const first = Math.max(0, Math.ceil(centre - width / 2 - 1e-9));
  const last = Math.min(size - 1, Math.ceil(centre + width / 2 - 1e-9) - 1);
  if (last >= first) return { first, count: last - first + 1 };
  return { first: Math.min(size - 1, Math.max(0, Math.round(centre))), count: 1 };
}

/** First row of each strip, and after the last the number of rows: `count` rows in parts as equal as can be. */
function stripStarts(count: number): number[] {
  const strips = Math.min(STRIPS, count);
  return Array.from({ length: strips + 1 }, (_, k) => Math.floor((k * count) / strips));
}

/** Middle of each strip, in rows from the first. */
function stripMiddles(starts: readonly number[]): number[] {
  return starts.slice(1).map((next, k) => (starts[k] + next - 1) / 2);
}

function axisSampler({ path, width }: Band, source: FrameSource): Sampler {
  const [[x1, y1], [x2, y2]] = path;
  const alongColumns = y1 === y2;
  const [from, to, across] = alongColumns ? [x1, x2, y1] : [y1, y2, x1];
  const forward = to > from;
  const low = Math.ceil(Math.min(from, to) - 1e-9);
  const high = Math.floor(Math.max(from, to) + 1e-9);
  const positions = high - low + 1;
  const { first, count } = pixelsAcross(across, width, alongColumns ? source.rows : source.columns);
  const starts = stripStarts(count);
  const region = alongColumns
    ? { row: first, column: low, rows: count, columns: positions }
    : { row: low, column: first, rows: positions, columns: count };
  // (−dy, dx) of the path's direction: down the rows for a path to the right.
  const sign = alongColumns === forward ? 1 : -1;
  const begin = forward ? low : high;
  const end = forward ? high : low;
  return {
    region,
    positions,
    path: alongColumns
      ? [
          [begin, across],
          [end, across],
        ]
      : [
          [across, begin],
          [across, end],
        ],
    width: count,
    offsets: stripMiddles(starts).map((middle) => sign * (first + middle - across)),
    counts: starts.slice(1).map((next, k) => new Float64Array(positions).fill(next - starts[k])),
    sample(picture, lines, frame) {
      const { data, offset } = picture;
      const [strideAcross, strideAlong] = alongColumns
        ? [picture.stride[0], picture.stride[1]]
        : [picture.stride[1], picture.stride[0]];
      const step = forward ? strideAlong : -strideAlong;
      const origin = offset + (forward ? 0 : (positions - 1) * strideAlong);
      lines.forEach((line, k) => {
        for (let r = starts[k]; r < starts[k + 1]; r++) {
          let at = origin + r * strideAcross;
          for (let p = frame * positions; p < (frame + 1) * positions; p++, at += step) line[p] += data[at];
        }
        const rows = starts[k + 1] - starts[k];
        for (let p = frame * positions; p < (frame + 1) * positions; p++) line[p] /= rows;
      });
    },
  };
}

function obliqueSampler({ path, width }: Band, source: FrameSource): Sampler {
  const [[x1, y1], [x2, y2]] = path;
  const length = Math.hypot(x2 - x1, y2 - y1);
  const dx = (x2 - x1) / length;
  const dy = (y2 - y1) / length;
  const positions = Math.floor(length + 1e-9) + 1;
  const placeOf = (across: number, s: number) =>
    [x1 + s * dx - across * dy, y1 + s * dy + across * dx] as const;
  const isInside = ([x, y]: readonly [number, number]) =>
    x >= -0.5 && x <= source.columns - 0.5 && y >= -0.5 && y <= source.rows - 0.5;
  const diagonal = Math.ceil(Math.hypot(source.rows, source.columns));
  const asked = Math.max(1, Math.min(Math.round(width), 2 * diagonal + 1));
  const lines = Array.from({ length: asked }, (_, r) => {
    const across = r - (asked - 1) / 2;
    const inside = Array.from({ length: positions }, (_, s) => s).filter((s) => isInside(placeOf(across, s)));
    return { across, inside };
  }).filter(({ inside }) => inside.length > 0);
  const starts = stripStarts(lines.length);
  const counts = starts.slice(1).map((next, k) => {
    const count = new Float64Array(positions);
    for (const { inside } of lines.slice(starts[k], next)) for (const s of inside) count[s]++;
    return count;
  });

  const clampColumn = (x: number) => Math.min(Math.max(x, 0), source.columns - 1);
  const clampRow = (y: number) => Math.min(Math.max(y, 0), source.rows - 1);
  const corners = [lines[0], lines[lines.length - 1]].flatMap(({ across }) =>
    [0, positions - 1].map((s) => placeOf(across, s)),
  );
  const column = Math.floor(clampColumn(Math.min(...corners.map(([x]) => x))));
  const row = Math.floor(clampRow(Math.min(...corners.map(([, y]) => y))));
  const columns = Math.ceil(clampColumn(Math.max(...corners.map(([x]) => x)))) - column + 1;
  const rows = Math.ceil(clampRow(Math.max(...corners.map(([, y]) => y)))) - row + 1;
  return {
    region: { row, column, rows, columns },
    positions,
    path: [
      [x1, y1],
      [x1 + (positions - 1) * dx, y1 + (positions - 1) * dy],
    ],
    width: lines.length,
    offsets: stripMiddles(starts).map((middle) => lines[0].across + middle),
    counts,
    sample(picture, strips, frame) {
      const { data, offset } = picture;
      const [strideRow, strideColumn] = picture.stride;
      const right = columns > 1 ? strideColumn : 0;
      const down = rows > 1 ? strideRow : 0;
      strips.forEach((strip, k) => {
        for (const { across, inside } of lines.slice(starts[k], starts[k + 1]))
          for (const s of inside) {
            const [unclampedX, unclampedY] = placeOf(across, s);
            const x = clampColumn(unclampedX) - column;
            const y = clampRow(unclampedY) - row;
            const c0 = Math.min(Math.floor(x), Math.max(0, columns - 2));
            const r0 = Math.min(Math.floor(y), Math.max(0, rows - 2));
            const fx = x - c0;
            const fy = y - r0;
            const at = offset + r0 * strideRow + c0 * strideColumn;
            const value =
              (1 - fy) * ((1 - fx) * data[at] + fx * data[at + right]) +
              fy * ((1 - fx) * data[at + down] + fx * data[at + down + right]);
            strip[frame * positions + s] += value / counts[k][s];
          }
      });
    },
  };
}
