import type { StripedStreak } from "./read-streak.js";

/** Parts of the path that are looked at apart: a front is in few of them at a time. */
const PARTS = 12;
/** Share of the parts that a front, its smear and its tail may leave untouched, and still noise is what is seen. */
const UNTOUCHED = 0.5;
/** Positions of a frame looked at, at most. */
const MOST_POSITIONS = 512;

/** Mean squares of differences between neighbouring frames, as of single pixels: of a mean over n pixels, n times its
 *  square. */
export interface DifferencesInTime {
  /** What noise leaves: the mean over the quieter half of the path, of each part what a level and a share of the
   *  brightness (flicker) leave. */
  readonly typical: Float64Array;
  /** The part of the path that differs most, nothing taken out. */
  readonly largest: Float64Array;
}

/** What the frame before, the frame itself and the one after count in the differences looked at. */
export const DIFFERENCES = { first: [-1, 1, 0], second: [-1, 2, -1], across: [-1, 0, 1] } as const;

/** Differences in time of a streak's strips, several kinds of them.
 *  @returns of each kind, shape (frames,), NaN where a neighbour is missing */
export function differencesInTime<Kind extends keyof typeof DIFFERENCES>(
  { strips, stripCounts, shape }: Pick<StripedStreak, "strips" | "stripCounts" | "shape">,
  kinds: readonly Kind[],
): Readonly<Record<Kind, DifferencesInTime>> {
  const parts = partsOf(strips, stripCounts, shape);
  return Object.fromEntries(kinds.map((kind) => [kind, ofKind(parts, shape, kind)])) as Record<
    Kind,
    DifferencesInTime
  >;
}

/** A part of the path in one strip: its samples that are looked at. */
interface StripPart {
  readonly data: Float64Array;
  /** Positions, and of each the pixels that it is the mean of and its brightness, of whose noise a single frame's would
   *  bring too much. */
  readonly places: Int32Array;
  readonly pixels: Float64Array;
  readonly levels: Float64Array;
}

function partsOf(
  strips: readonly Float64Array[],
  stripCounts: readonly Float64Array[],
  [frames, positions]: readonly [number, number],
): PathPart[] {
  const stride = Math.max(1, Math.ceil(positions / MOST_POSITIONS));
  const parts = Math.min(PARTS, positions);
  return Array.from({ length: parts }, (_, part) => {
    const end = Math.floor(((part + 1) * positions) / parts);
    const inStrips = strips.map((data, k): StripPart => {
      const counts = stripCounts[k];
      const places: number[] = [];
      for (let p = Math.floor((part * positions) / parts); p < end; p += stride)
        if (counts[p] > 0) places.push(p);
      const levels = new Float64Array(places.length);
      for (let i = 0; i < frames; i++)
        for (let n = 0; n < levels.length; n++) levels[n] += data[i * positions + places[n]] / frames;
      const pixels = Float64Array.from(places, (p) => counts[p]);
      return { data, places: Int32Array.from(places), pixels, levels };
    });
    return new PathPart(inStrips);
  });
}

function ofKind(
  parts: readonly PathPart[],
  [frames, positions]: readonly [number, number],
  kind: keyof typeof DIFFERENCES,
): DifferencesInTime {
  const typical = new Float64Array(frames).fill(Number.NaN);
  const largest = new Float64Array(frames).fill(Number.NaN);
  const told = parts.filter(({ count }) => count > 0);
  if (told.length === 0) return { typical, largest };
  const end = DIFFERENCES[kind][2] === 0 ? frames : frames - 1;
  const untouched = Math.max(1, Math.floor(UNTOUCHED * told.length));
  const left = new Float64Array(told.length);
  for (let i = 1; i < end; i++) {
    let most = 0;
    told.forEach((part, n) => {
      part.look(i, positions, DIFFERENCES[kind]);
      left[n] = part.aboutBrightness();
      most = Math.max(most, part.meanSquare());
    });
    left.sort();
    let sum = 0;
    for (let n = 0; n < untouched; n++) sum += left[n];
    typical[i] = sum / untouched;
    largest[i] = most;
  }
  return { typical, largest };
}

/** One part of the path: sums over its samples, each weighing as many pixels as it is the mean of. */
class PathPart {
  readonly count: number;
  /** Of the brightness, the same in every frame. */
  private weight = 0;
  private level = 0;
  private levelSquare = 0;
  /** Of the difference looked at last. */
  private difference = 0;
  private product = 0;
  private square = 0;

  constructor(private readonly strips: readonly StripPart[]) {
    this.count = strips.reduce((sum, { places }) => sum + places.length, 0);
    for (const { pixels, levels } of strips)
      for (let n = 0; n < levels.length; n++) {
        this.weight += pixels[n];
        this.level += pixels[n] * levels[n];
        this.levelSquare += pixels[n] * levels[n] * levels[n];
      }
  }

  look(frame: number, positions: number, coefficients: readonly [number, number, number]): void {
    this.difference = 0;
    this.product = 0;
    this.square = 0;
    for (const strip of this.strips) this.add(strip, frame * positions, positions, coefficients);
  }

  /** @param line  where the frame begins in the data */
  private add(
    { data, places, pixels, levels }: StripPart,
    line: number,
    positions: number,
    [before, itself, after]: readonly [number, number, number],
  ): void {
    let { difference, product, square } = this;
    for (let n = 0; n < places.length; n++) {
      const at = line + places[n];
      const later = after === 0 ? 0 : after * data[at + positions];
      const apart = before * data[at - positions] + itself * data[at] + later;
      const weighed = pixels[n] * apart;
      difference += weighed;
      product += levels[n] * weighed;
      square += weighed * apart;
    }
    this.difference = difference;
    this.product = product;
    this.square = square;
  }

  meanSquare(): number {
    return this.square / this.count;
  }

  /** What a straight line through difference against brightness leaves, per degree of freedom. */
  aboutBrightness(): number {
    const spread = this.levelSquare - this.level ** 2 / this.weight;
    const product = this.product - (this.level * this.difference) / this.weight;
    const aboutMean = this.square - this.difference ** 2 / this.weight;
    if (this.count < 3) return this.meanSquare();
    // Brightness that is even to rounding says nothing of a share of it.
    const isTold = spread > 1e-12 * this.levelSquare;
    const left = isTold ? aboutMean - product ** 2 / spread : aboutMean;
    return Math.max(0, left) / (this.count - (isTold ? 2 : 1));
  }
}
