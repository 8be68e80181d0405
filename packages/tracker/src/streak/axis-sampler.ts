import type { NdArray } from "ndarray";
import type { FrameSamples, FrameSource } from "../types.js";
import { type Band, type Sampler, stripMiddles, stripStarts } from "./sampler.js";

/** Reads whole pixels along a row or a column. */
export function axisSampler({ path, width }: Band, source: FrameSource): Sampler {
  const [[x1, y1], [x2, y2]] = path;
  const alongColumns = y1 === y2;
  const [from, to, across] = alongColumns ? [x1, x2, y1] : [y1, y2, x1];
  const forward = to > from;
  // + 0: no minus zero in the result.
  const low = Math.ceil(Math.min(from, to) - 1e-9) + 0;
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
  /** Where the band begins in a picture's data, and the steps across and along. */
  const walk = ({ offset, stride: [byRow, byColumn] }: NdArray<FrameSamples>) => {
    const [strideAcross, strideAlong] = alongColumns ? [byRow, byColumn] : [byColumn, byRow];
    return {
      origin: offset + (forward ? 0 : (positions - 1) * strideAlong),
      strideAcross,
      step: forward ? strideAlong : -strideAlong,
    };
  };
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
      const { data } = picture;
      const { origin, strideAcross, step } = walk(picture);
      for (let k = 0; k < lines.length; k++) {
        const line = lines[k].subarray(frame * positions, (frame + 1) * positions);
        const rows = starts[k + 1] - starts[k];
        for (let r = 0; r < rows; r += TOGETHER) {
          const from = origin + (starts[k] + r) * strideAcross;
          if (r + TOGETHER <= rows) addRows(line, data, from, step, strideAcross);
          else for (let n = r; n < rows; n++) addRow(line, data, from + (n - r) * strideAcross, step);
        }
        for (let p = 0; p < positions; p++) line[p] /= rows;
      }
    },
    pixels(picture, into) {
      const { data } = picture;
      const { origin, strideAcross, step } = walk(picture);
      for (let r = 0, k = 0; r < count; r++)
        for (let p = 0, at = origin + r * strideAcross; p < positions; p++, k++, at += step)
          into[k] = data[at];
    },
  };
}

/** Rows added in one go: each sum is then fetched and put back once for so many samples. */
const TOGETHER = 4;

/** @param across  from one row to the next */
function addRows(line: Float64Array, data: FrameSamples, from: number, step: number, across: number): void {
  const second = across;
  const third = 2 * across;
  const fourth = 3 * across;
  for (let p = 0, at = from; p < line.length; p++, at += step)
    line[p] += data[at] + data[at + second] + (data[at + third] + data[at + fourth]);
}

function addRow(line: Float64Array, data: FrameSamples, from: number, step: number): void {
  for (let p = 0, at = from; p < line.length; p++, at += step) line[p] += data[at];
}

/** First whole pixel of a band of `width` about `centre`, kept inside 0..size − 1, and how many there are. */
function pixelsAcross(centre: number, width: number, size: number): { first: number; count: number } {
  const first = Math.max(0, Math.ceil(centre - width / 2 - 1e-9));
  const last = Math.min(size - 1, Math.ceil(centre + width / 2 - 1e-9) - 1);
  if (last >= first) return { first, count: last - first + 1 };
  return { first: Math.min(size - 1, Math.max(0, Math.round(centre))), count: 1 };
}
