import { describeFrame } from "./cell-grid.js";
import { areaOf, departures, type FineCells } from "./fine-cells.js";
import type { FrameReader } from "./frame-reader.js";
import { lightOf } from "./light.js";
import { median } from "./median.js";

/** From here on an area counts as hot: one of 10^6 does by chance. */
const HOT = 5;

/** What of a frame departs from the quiet frames. */
export interface Departure {
  /** Noise levels of the area that departs most. */
  readonly greatest: number;
  /** Areas that depart by more than five noise levels: first and last row, first and last column. */
  readonly hot: readonly (readonly [number, number, number, number])[];
}

/** Frames before (or after) an event, and how those beside them depart. */
export interface QuietFrames {
  /** How the frames from `start` to, not including, `end` depart, in that order. */
  departuresOf(start: number, end: number): Promise<Departure[]>;
}

/** Averages quiet frames, pixel by pixel, and learns from them how much every area scatters.
 *  @param byLevel  whether the brightness of the whole counts too, instead of being divided out alone
 *  @param counts  which areas of the cells are looked at. Default: all */
export async function quietFrames(
  reader: FrameReader,
  cells: FineCells,
  range: readonly [start: number, end: number],
  byLevel: boolean,
  counts: (area: number) => boolean = () => true,
): Promise<QuietFrames> {
  const { grid } = reader;
  const { rows, columns, size, means, pixels, kinds } = cells;
  const picture = new Float64Array(rows * columns);
  let first: Float64Array | null = null;
  const levels: number[] = [];
  for await (const { frame } of reader.run(...range)) {
    const descriptor = describeFrame(frame, grid);
    first ??= descriptor;
    levels.push(descriptor[grid.size - 1]);
    const light = lightOf(descriptor, first, grid);
    const { data, offset } = frame;
    const [rowStride, columnStride] = frame.stride;
    for (let row = 0, k = 0; row < rows; row++)
      for (let column = 0, at = offset + row * rowStride; column < columns; column++, at += columnStride)
        picture[k++] += data[at] / (light.base + light.byRow * row + light.byColumn * column);
  }
  const count = levels.length;
  for (let k = 0; k < picture.length; k++) picture[k] /= count;

  const sum = new Float64Array(size);
  const squares = new Float64Array(size);
  const power = new Float64Array(size);
  const small = kinds[0].down * kinds[0].across;
  for await (const { at, frame } of reader.run(...range)) {
    const values = valuesOf(frame, at);
    for (let k = 0; k < size; k++) {
      sum[k] += values[k];
      squares[k] += values[k] * values[k];
    }
    for (let k = 0; k < small; k++) power[k] += values[means + k] ** 3 / count;
  }
  // A frame averaged in departs less from the average than one beside it does.
  const outside = (count + 1) / (count - 1);
  for (let k = 0; k < small; k++) power[k] *= outside;
  const mean = sum.map((value, k) => (k < means ? value / count : (value / count) * Math.cbrt(outside)));
  const scatter = squares.map((value, k) =>
    Math.sqrt(Math.max(0, ((value - sum[k] ** 2 / count) / (count - 1)) * (1 + 1 / count))),
  );
  const noise = noiseOf();
  const level = levels.reduce((total, value) => total + value, 0) / count;
  const rounding = reader.roundingStep(level) / Math.sqrt(12);
  const levelNoise = Math.max(
    Math.sqrt(levels.reduce((total, value) => total + (value - level) ** 2, 0) / (count - 1)),
    rounding / Math.sqrt(rows * columns),
  );

  const counted = Int32Array.from({ length: size }, (_, k) => k).filter(counts);
  return {
    async departuresOf(start, end) {
      const list: Departure[] = [];
      for await (const { at, frame } of reader.run(start, end)) {
        const values = valuesOf(frame, at);
        const hot: Departure["hot"][number][] = [];
        let greatest = 0;
        for (const k of counted) {
          const z = Math.abs(values[k] - mean[k]) / noise[k];
          if (z > greatest) greatest = z;
          if (z > HOT) hot.push(areaOf(cells, k));
        }
        if (byLevel) {
          const z = Math.abs(describeFrame(frame, grid)[grid.size - 1] - level) / levelNoise;
          greatest = Math.max(greatest, z);
          if (z > HOT) hot.push([0, kinds[0].down - 1, 0, kinds[0].across - 1]);
        }
        list.push({ greatest, hot });
      }
      return list;
    },
  };

  /** Departures, the mean squares as their cube roots: these are nearly normal (Wilson and Hilferty, Proc. Natl. Acad. Sci. 17
   *  (1931) 684, from memory). What was made darker has less noise, and is raised to that of the rest. */
  function valuesOf(frame: Parameters<typeof departures>[0], at: number): Float64Array {
    const light = lightOf(describeFrame(frame, grid), first!, grid);
    const values = departures(frame, light, picture, cells);
    const ratio = reader.noiseRatio(at);
    for (let k = 0; k < means; k++) values[k] *= ratio;
    for (let k = means; k < size; k++) values[k] = Math.cbrt(ratio ** 2 * values[k]);
    return values;
  }

  /** An area's own scatter, but not less than what areas of its kind scatter for the noise of their pixels: a few frames
   *  alone would believe in too little. */
  function noiseOf(): Float64Array {
    const step = reader.roundingStep(median(picture));
    const least = step ** 2 / 12;
    const variance = new Float64Array(size);
    for (let k = 0; k < small; k++) variance[k] = Math.max(least, power[k]) * pixels[k];
    for (const { high, wide, across, from } of kinds.slice(1))
      for (let k = 0; k < small; k++) {
        const row = Math.floor(Math.floor(k / kinds[0].across) / high);
        variance[from + row * across + Math.floor((k % kinds[0].across) / wide)] += variance[k];
      }
    const own = Float64Array.from(scatter);
    for (const { down, across, from } of kinds) {
      const expected = (k: number) => Math.sqrt(variance[k]) / pixels[k];
      const parts = Float64Array.from(
        { length: down * across },
        (_, j) => scatter[from + j] / expected(from + j),
      );
      const usual = Math.max(1, median(parts));
      for (let k = from; k < from + down * across; k++) own[k] = Math.max(own[k], usual * expected(k));
    }
    // Relative scatter of the cube root of a mean square of n normal numbers: sqrt(2 / 9 n).
    const ofRoot = (k: number) => Math.max(Math.cbrt(least), mean[k]);
    const usual = Math.max(
      1,
      median(
        Float64Array.from(
          { length: small },
          (_, j) => (scatter[means + j] / ofRoot(means + j)) * Math.sqrt(4.5 * pixels[j]),
        ),
      ),
    );
    for (let k = means; k < size; k++)
      own[k] = Math.max(own[k], (usual * ofRoot(k)) / Math.sqrt(4.5 * pixels[k]));
    return own;
  }
}
