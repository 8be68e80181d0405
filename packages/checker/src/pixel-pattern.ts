import type { PixelPattern } from "./types.js";

/** Side of the blocks that pictures are compressed in (ITU-T T.81, A.1.3: 8 x 8), px. */
const BLOCK = 8;
/** A pattern counts that is so many standard deviations beyond chance, and so large a part of what is seen. */
const SURE = 6;
const LEAST = 0.03;
/** Pixels differ in turns where they do by this part of what pixels two apart differ by, or their noise by this part of
 *  its variance (common practice, no source): readout circuits make a little of it, too. */
const IN_TURNS = 0.25;
const NOISE_IN_TURNS = 0.15;
/** Differences of more than so many times the median count as so many. */
const CAP = 4;
const SAMPLED = 4999;
/** Noise keeps to so many standard deviations, but for 0.3 %. */
const TAILS = 3;
/** Standard deviation by the median departure, and that of a median by that of a mean, of normal numbers. */
const OF_MEDIAN = 1.4826;
const OF_MEAN = 1.2533;

/** What repeats from pixel to pixel: borders of blocks, and pixels that differ in turns.
 *  @param picture  row-major, shape (rows · columns,)
 *  @param change  the same of the difference of two frames, in which what stands still is gone; null: of a single still
 *  @returns of fewer than 24 rows or columns that there is none */
export function pixelPattern(
  picture: Float64Array,
  change: Float64Array | null,
  rows: number,
  columns: number,
): PixelPattern {
  if (Math.min(rows, columns) < 3 * BLOCK) return { blocks: null, mosaic: false };
  const seen = change ?? picture;
  const alongRows = borderExcess(seen, rows, columns, 1, columns);
  const alongColumns = borderExcess(seen, columns, rows, columns, 1);
  const blocks = alongRows !== null && alongColumns !== null ? Math.min(alongRows, alongColumns) : null;
  return {
    blocks,
    mosaic:
      differsInTurns(picture, rows, columns) || (change !== null && variesInTurns(change, rows, columns)),
  };
}

/** How much more neighbours differ at the place of the eight where they differ most, over the others.
 *  @returns null where that is within chance */
function borderExcess(
  data: Float64Array,
  lines: number,
  length: number,
  step: number,
  lineStep: number,
): number | null {
  // Edges and glints stand where they stand: capped, so that no few of them make a pattern.
  const cap = CAP * medianStep(data, step, lineStep, lines, length);
  if (!(cap > 0)) return null;
  // Of each place along the line, over all lines: texture is alike from line to line, and places differ by it.
  const places = new Float64Array(length - 1);
  for (let line = 0; line < lines; line++)
    for (let i = 0; i + 1 < length; i++) {
      const at = line * lineStep + i * step;
      places[i] += Math.min(cap, Math.abs(data[at + step] - data[at])) / lines;
    }
  // Medians, for one edge that stands along a border is no block.
  const ofPhase = (phase: number) => places.filter((_, i) => i % BLOCK === phase);
  const middles = Array.from({ length: BLOCK }, (_, phase) => medianOf(ofPhase(phase)));
  const most = middles.indexOf(Math.max(...middles));
  const others = places.filter((_, i) => i % BLOCK !== most);
  const middle = medianOf(others);
  if (!(middle > 0)) return null;
  const deviation = OF_MEDIAN * medianOf(others.map((value) => Math.abs(value - middle)));
  const chance = (OF_MEAN * deviation) / Math.sqrt(ofPhase(most).length) / middle;
  const excess = middles[most] / middle - 1;
  return excess > Math.max(LEAST, SURE * chance) ? excess : null;
}

function medianOf(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[sorted.length >> 1] ?? 0;
}

/** Median difference of neighbours, from some thousand of them. */
function medianStep(
  data: Float64Array,
  step: number,
  lineStep: number,
  lines: number,
  length: number,
): number {
  const every = Math.max(1, Math.floor((lines * length) / SAMPLED));
  const sizes: number[] = [];
  for (let n = 0; n < lines * length; n += every) {
    const i = n % length;
    if (i + 1 >= length) continue;
    const at = Math.floor(n / length) * lineStep + i * step;
    sizes.push(Math.abs(data[at + step] - data[at]));
  }
  return medianOf(sizes);
}

const TURNS: readonly (readonly [number, number])[] = [
  [1, 0],
  [0, 1],
  [1, 1],
];

/** Whether the brightness differs from pixel to pixel in turns of two. */
function differsInTurns(data: Float64Array, rows: number, columns: number): boolean {
  let noise = 0;
  let count = 0;
  for (let y = 0; y < rows; y++)
    for (let x = 0; x + 2 < columns; x++) {
      const at = y * columns + x;
      // Two apart: the same place in the pattern.
      noise += (data[at + 2] - data[at]) ** 2 / 2;
      count++;
    }
  const deviation = Math.sqrt(noise / count);
  return TURNS.some(([dx, dy]) => {
    let sum = 0;
    let seen = 0;
    // Against the neighbours on either side, so that a slope of the brightness does not count.
    const beside = dx === 1 ? 1 : columns;
    for (let y = 1; y + 1 < rows; y++)
      for (let x = 1; x + 1 < columns; x++) {
        const at = y * columns + x;
        const departs = (2 * data[at] - data[at - beside] - data[at + beside]) / 4;
        sum += (x * dx + y * dy) % 2 === 0 ? departs : -departs;
        seen++;
      }
    return Math.abs(sum) / seen > Math.max(SURE / Math.sqrt(seen), IN_TURNS) * deviation;
  });
}

/** Whether the noise differs from pixel to pixel in turns of two, as where colours were interpolated. */
function variesInTurns(change: Float64Array, rows: number, columns: number): boolean {
  // What runs or flies in the two frames is no noise: more than this counts as this.
  const every = Math.ceil(change.length / SAMPLED);
  const sizes = change.filter((_, at) => at % every === 0).map(Math.abs);
  const most = (TAILS * OF_MEDIAN * medianOf(sizes)) ** 2;
  return TURNS.some(([dx, dy]) => {
    const sums = [0, 0];
    const counts = [0, 0];
    for (let y = 0; y < rows; y++)
      for (let x = 0; x < columns; x++) {
        const turn = (x * dx + y * dy) % 2;
        sums[turn] += Math.min(most, change[y * columns + x] ** 2);
        counts[turn]++;
      }
    const [a, b] = sums.map((sum, k) => sum / counts[k]);
    if (!(a + b > 0)) return false;
    // The variance of n squares of normal numbers is 2 / n of their mean squared.
    return Math.abs(a - b) / (a + b) > Math.max(NOISE_IN_TURNS, SURE * Math.sqrt(2 / change.length));
  });
}
