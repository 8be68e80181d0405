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

/** Differences in time of a streak's strips.
 *  @returns shape (frames,), NaN where a neighbour is missing */
export function differencesInTime(
  { strips, stripCounts, shape }: Pick<StripedStreak, "strips" | "stripCounts" | "shape">,
  kind: keyof typeof DIFFERENCES,
): DifferencesInTime {
  const [frames, positions] = shape;
  const stride = Math.max(1, Math.ceil(positions / MOST_POSITIONS));
  const parts = Math.min(PARTS, positions);
  const typical = new Float64Array(frames).fill(Number.NaN);
  const largest = new Float64Array(frames).fill(Number.NaN);
  const [before, itself, after] = DIFFERENCES[kind];
  const levels = strips.map((strip) => meanOverFrames(strip, positions));
  for (let i = 1; i < (after === 0 ? frames : frames - 1); i++) {
    const left: number[] = [];
    let most = 0;
    for (let part = 0; part < parts; part++) {
      const sums = new PartSums();
      const end = Math.floor(((part + 1) * positions) / parts);
      strips.forEach((strip, k) => {
        for (let p = Math.floor((part * positions) / parts); p < end; p += stride) {
          const at = i * positions + p;
          const later = after === 0 ? 0 : after * strip[at + positions];
          const difference = before * strip[at - positions] + itself * strip[at] + later;
          sums.add(stripCounts[k][p], levels[k][p], difference);
        }
      });
      if (sums.count === 0) continue;
      left.push(sums.aboutBrightness());
      most = Math.max(most, sums.meanSquare());
    }
    if (left.length === 0) continue;
    const quiet = left.sort((a, b) => a - b).slice(0, Math.max(1, Math.floor(UNTOUCHED * left.length)));
    typical[i] = quiet.reduce((sum, value) => sum + value, 0) / quiet.length;
    largest[i] = most;
  }
  return { typical, largest };
}

/** Brightness of each position, of whose noise a single frame's would bring too much. */
function meanOverFrames(strip: Float64Array, positions: number): Float64Array {
  const mean = new Float64Array(positions);
  for (let at = 0, p = 0; at < strip.length; at++, p = p + 1 === positions ? 0 : p + 1)
    mean[p] += (strip[at] * positions) / strip.length;
  return mean;
}

/** Sums over one part of the path, each sample weighing as many pixels as it is the mean of. */
class PartSums {
  count = 0;
  #weight = 0;
  #level = 0;
  #levelSquare = 0;
  #difference = 0;
  #product = 0;
  #square = 0;

  add(pixels: number, level: number, difference: number): void {
    if (pixels === 0) return;
    this.count++;
    this.#weight += pixels;
    this.#level += pixels * level;
    this.#levelSquare += pixels * level * level;
    this.#difference += pixels * difference;
    this.#product += pixels * level * difference;
    this.#square += pixels * difference * difference;
  }

  meanSquare(): number {
    return this.#square / this.count;
  }

  /** What a straight line through difference against brightness leaves, per degree of freedom. */
  aboutBrightness(): number {
    const spread = this.#levelSquare - this.#level ** 2 / this.#weight;
    const product = this.#product - (this.#level * this.#difference) / this.#weight;
    const aboutMean = this.#square - this.#difference ** 2 / this.#weight;
    if (this.count < 3) return this.meanSquare();
    // Brightness that is even to rounding says nothing of a share of it.
    const isTold = spread > 1e-12 * this.#levelSquare;
    const left = isTold ? aboutMean - product ** 2 / spread : aboutMean;
    return Math.max(0, left) / (this.count - (isTold ? 2 : 1));
  }
}
