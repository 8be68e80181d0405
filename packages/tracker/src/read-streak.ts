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
 *  length, between pixels by bilinear interpolation.
 *  @throws the signal's reason when aborted */
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
    frameNumbers.push(number);
    options.onProgress?.({ stage: "reading", done: frameNumbers.length, total: frames });
  }
  const stripRows = samplers.map(({ width, offsets }) => rowsOfStrips(width, offsets.length));
  return samplers.map(({ positions, path, width, offsets }, k) => ({
    data: averageOf(strips[k], stripRows[k]),
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

function averageOf(strips: readonly Float64Array[], rows: readonly number[]): Float64Array {
  const total = rows.reduce((sum, count) => sum + count, 0);
  const mean = new Float64Array(strips[0].length);
  strips.forEach((strip, k) => {
    for (let i = 0; i < mean.length; i++) mean[i] += (strip[i] * rows[k]) / total;
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

function rowsOfStrips(count: number, strips: number): number[] {
  const starts = stripStarts(count);
  return Array.from({ length: strips }, (_, k) => starts[k + 1] - starts[k]);
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
  const count = Math.max(1, Math.round(width));
  const starts = stripStarts(count);
  const acrossOf = (r: number) => r - (count - 1) / 2;
  // Bilinear sampling: for every sample the four pixels' place in the region and their weights.
  const corners = [acrossOf(0), acrossOf(count - 1)].flatMap((a) =>
    [0, positions - 1].map((s) => [x1 + s * dx - a * dy, y1 + s * dy + a * dx] as const),
  );
  const clampColumn = (x: number) => Math.min(Math.max(x, 0), source.columns - 1);
  const clampRow = (y: number) => Math.min(Math.max(y, 0), source.rows - 1);
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
    width: count,
    offsets: stripMiddles(starts).map(acrossOf),
    sample(picture, lines, frame) {
      const { data, offset } = picture;
      const [strideRow, strideColumn] = picture.stride;
      for (let r = 0, k = 0; r < count; r++) {
        if (r >= starts[k + 1]) k++;
        const line = lines[k];
        const stripRows = starts[k + 1] - starts[k];
        const a = acrossOf(r);
        for (let s = 0; s < positions; s++) {
          const x = clampColumn(x1 + s * dx - a * dy) - column;
          const y = clampRow(y1 + s * dy + a * dx) - row;
          const c0 = Math.min(Math.floor(x), Math.max(0, columns - 2));
          const r0 = Math.min(Math.floor(y), Math.max(0, rows - 2));
          const fx = x - c0;
          const fy = y - r0;
          const at = offset + r0 * strideRow + c0 * strideColumn;
          const right = columns > 1 ? strideColumn : 0;
          const down = rows > 1 ? strideRow : 0;
          const value =
            (1 - fy) * ((1 - fx) * data[at] + fx * data[at + right]) +
            fy * ((1 - fx) * data[at + down] + fx * data[at + down + right]);
          line[frame * positions + s] += value / stripRows;
        }
      }
    },
  };
}
