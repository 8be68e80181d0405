import { meansInTime } from "./means-in-time.js";

/** Parts of the path that are looked at apart: a front is in few of them at a time. */
const PARTS = 12;
/** Positions of a frame looked at, at most. */
const MOST_POSITIONS = 512;

/** What the frame before, the frame itself and the one after count in the differences looked at. */
export const DIFFERENCES = { first: [-1, 1, 0], second: [-1, 2, -1], across: [-1, 0, 1] } as const;

export type DifferenceKind = keyof typeof DIFFERENCES;

/** A part of the path in one strip: its samples that are looked at. */
interface StripPart {
  readonly data: Float64Array;
  /** Positions, and of each the pixels that it is the mean of and its brightness, of whose noise a single frame's would
   *  bring too much. */
  readonly places: Int32Array;
  readonly pixels: Float64Array;
  readonly levels: Float64Array;
}

/** The path in parts, of which some may hold no sample. */
export function partsOf(
  strips: readonly Float64Array[],
  stripCounts: readonly Float64Array[],
  [frames, positions]: readonly [number, number],
): PathPart[] {
  const stride = Math.max(1, Math.ceil(positions / MOST_POSITIONS));
  const parts = Math.min(PARTS, positions);
  const means = strips.map((data) => meansInTime(data, frames, positions));
  return Array.from({ length: parts }, (_, part) => {
    const end = Math.floor(((part + 1) * positions) / parts);
    const inStrips = strips.map((data, k): StripPart => {
      const counts = stripCounts[k];
      const places: number[] = [];
      for (let p = Math.floor((part * positions) / parts); p < end; p += stride)
        if (counts[p] > 0) places.push(p);
      const levels = Float64Array.from(places, (p) => means[k][p]);
      const pixels = Float64Array.from(places, (p) => counts[p]);
      return { data, places: Int32Array.from(places), pixels, levels };
    });
    return new PathPart(inStrips);
  });
}

/** One part of the path: sums over the differences of its samples, each weighing as many pixels as it is the mean of. */
export class PathPart {
  readonly count: number;
  /** Of the brightness, the same in every frame. */
  private weight = 0;
  private level = 0;
  private levelSquare = 0;
  /** Of the frame looked at last, each kind of its differences. */
  private readonly sums = { first: blankSums(), second: blankSums(), across: blankSums() };

  constructor(private readonly strips: readonly StripPart[]) {
    this.count = strips.reduce((sum, { places }) => sum + places.length, 0);
    for (const { pixels, levels } of strips)
      for (let n = 0; n < levels.length; n++) {
        this.weight += pixels[n];
        this.level += pixels[n] * levels[n];
        this.levelSquare += pixels[n] * levels[n] * levels[n];
      }
  }

  /** @param isLast  the frame has none after it */
  look(frame: number, positions: number, isLast: boolean): void {
    const { first, second, across } = this.sums;
    for (const sums of [first, second, across]) sums.fill(0);
    for (const strip of this.strips)
      addStrip(strip, frame * positions, positions, isLast ? 0 : positions, first, second, across);
  }

  meanSquare(kind: DifferenceKind): number {
    return this.sums[kind][SQUARE] / this.count;
  }

  /** What a straight line through difference against brightness leaves, per degree of freedom. */
  aboutBrightness(kind: DifferenceKind): number {
    const sums = this.sums[kind];
    const difference = sums[DIFFERENCE];
    const levelProduct = sums[PRODUCT];
    const square = sums[SQUARE];
    const spread = this.levelSquare - this.level ** 2 / this.weight;
    const product = levelProduct - (this.level * difference) / this.weight;
    const aboutMean = square - difference ** 2 / this.weight;
    if (this.count < 3) return this.meanSquare(kind);
    // Brightness that is even to rounding says nothing of a share of it.
    const isTold = spread > 1e-12 * this.levelSquare;
    const left = isTold ? aboutMean - product ** 2 / spread : aboutMean;
    return Math.max(0, left) / (this.count - (isTold ? 2 : 1));
  }
}

/** Σ difference, Σ level · difference and Σ difference², each weighed. */
function blankSums(): Float64Array {
  return new Float64Array(3);
}

const DIFFERENCE = 0;
const PRODUCT = 1;
const SQUARE = 2;

/** Adds the differences of one frame in one strip, all kinds of them: each sample is fetched once.
 *  @param line  where the frame begins in the data
 *  @param before  from a sample to that of the frame before
 *  @param after  to that of the frame after */
function addStrip(
  { data, places, pixels, levels }: StripPart,
  line: number,
  before: number,
  after: number,
  first: Float64Array,
  second: Float64Array,
  across: Float64Array,
): void {
  let difference = 0;
  let product = 0;
  let square = 0;
  let difference2 = 0;
  let product2 = 0;
  let square2 = 0;
  let difference3 = 0;
  let product3 = 0;
  let square3 = 0;
  for (let n = 0; n < places.length; n++) {
    const at = line + places[n];
    const weight = pixels[n];
    const level = levels[n];
    const fromBefore = data[at] - data[at - before];
    const toAfter = data[at + after] - data[at];
    const apart = fromBefore - toAfter;
    const over = fromBefore + toAfter;
    difference += weight * fromBefore;
    product += level * (weight * fromBefore);
    square += weight * fromBefore * fromBefore;
    difference2 += weight * apart;
    product2 += level * (weight * apart);
    square2 += weight * apart * apart;
    difference3 += weight * over;
    product3 += level * (weight * over);
    square3 += weight * over * over;
  }
  addSums(first, difference, product, square);
  addSums(second, difference2, product2, square2);
  addSums(across, difference3, product3, square3);
}

function addSums(sums: Float64Array, difference: number, product: number, square: number): void {
  sums[DIFFERENCE] += difference;
  sums[PRODUCT] += product;
  sums[SQUARE] += square;
}
