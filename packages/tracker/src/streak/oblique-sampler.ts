import type { NdArray } from "ndarray";
import type { FrameSamples, FrameSource } from "../types.js";
import { type Band, type Sampler, stripMiddles, stripStarts } from "./sampler.js";

/** Reads every pixel of an oblique path's length, between pixels by bilinear interpolation.
 *  @param moves  least and most shift across the path with which frames are sampled, px: only lines are read that lie
 *    inside the picture at both; default: none */
export function obliqueSampler(
  { path, width }: Band,
  source: FrameSource,
  moves: readonly [least: number, most: number] = [0, 0],
): Sampler {
  const isMoved = moves[1] > moves[0];
  const beyond = isMoved ? 1e-9 : 0.5;
  const [[x1, y1], [x2, y2]] = path;
  const length = Math.hypot(x2 - x1, y2 - y1);
  const dx = (x2 - x1) / length;
  const dy = (y2 - y1) / length;
  const positions = Math.floor(length + 1e-9) + 1;
  const placeOf = (across: number, s: number) =>
    [x1 + s * dx - across * dy, y1 + s * dy + across * dx] as const;
  const isInside = ([x, y]: readonly [number, number]) =>
    x >= -beyond && x <= source.columns - 1 + beyond && y >= -beyond && y <= source.rows - 1 + beyond;
  const diagonal = Math.ceil(Math.hypot(source.rows, source.columns));
  const asked = Math.max(1, Math.min(Math.round(width), 2 * diagonal + 1));
  const lines = Array.from({ length: asked }, (_, r) => {
    const across = r - (asked - 1) / 2;
    const inside = Array.from({ length: positions }, (_, s) => s).filter((s) =>
      moves.every((move) => isInside(placeOf(across + move, s))),
    );
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
  const corners = [lines[0].across + moves[0], lines[lines.length - 1].across + moves[1]].flatMap((across) =>
    [0, positions - 1].map((s) => placeOf(across, s)),
  );
  const column = Math.floor(clampColumn(Math.min(...corners.map(([x]) => x))));
  const row = Math.floor(clampRow(Math.min(...corners.map(([, y]) => y))));
  const columns = Math.ceil(clampColumn(Math.max(...corners.map(([x]) => x)))) - column + 1;
  const rows = Math.ceil(clampRow(Math.max(...corners.map(([, y]) => y)))) - row + 1;
  /** Brightness between the pixels of one frame's picture of the region. */
  const interpolated = ({ data, offset, stride: [strideRow, strideColumn] }: NdArray<FrameSamples>) => {
    const right = columns > 1 ? strideColumn : 0;
    const down = rows > 1 ? strideRow : 0;
    return (across: number, s: number) => {
      const [unclampedX, unclampedY] = placeOf(across, s);
      const x = clampColumn(unclampedX) - column;
      const y = clampRow(unclampedY) - row;
      const c0 = Math.min(Math.floor(x), Math.max(0, columns - 2));
      const r0 = Math.min(Math.floor(y), Math.max(0, rows - 2));
      const fx = x - c0;
      const fy = y - r0;
      const at = offset + r0 * strideRow + c0 * strideColumn;
      return (
        (1 - fy) * ((1 - fx) * data[at] + fx * data[at + right]) +
        fy * ((1 - fx) * data[at + down] + fx * data[at + down + right])
      );
    };
  };
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
    sample(picture, strips, frame, acrossPixels = 0) {
      const valueAt = interpolated(picture);
      strips.forEach((strip, k) => {
        for (const { across, inside } of lines.slice(starts[k], starts[k + 1]))
          for (const s of inside)
            strip[frame * positions + s] += valueAt(across + acrossPixels, s) / counts[k][s];
      });
    },
    pixels(picture, into, acrossPixels = 0) {
      const valueAt = interpolated(picture);
      into.fill(Number.NaN);
      lines.forEach(({ across, inside }, r) => {
        for (const s of inside) into[r * positions + s] = valueAt(across + acrossPixels, s);
      });
    },
  };
}
