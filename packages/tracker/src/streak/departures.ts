import { median } from "@frontpace/fit";

/** Frames from whose differences the noise of a pixel is told before anything departs from anything. */
const NOISE_FRAMES = 8;
/** Frames in a pixel's before-level, at most, and how near to it a sample must be to join it, noise units. */
const LEVEL_FRAMES = 16;
const JOINS = 3;
/** Departures count up to this many noise units: one bright crack must not outweigh the many beside it. */
const CLIP = 6;
/** Least mean square: samples that do not change at all have no logarithm. */
const LEAST_SQUARE = 0.05;
/** Pixels that tell the light of a frame, about, and at least; their level in noise units. */
const LIGHT_PIXELS = 4096;
const LEAST_LIGHT_PIXELS = 50;
const LEAST_LEVEL = 5;
/** Rounds of leaving out and estimating anew. */
const ROUNDS = 5;
/** Fewer rows than this do not tell what departs by itself from what departs together. */
const LEAST_ROWS = 4;

/** How far the pixels of a band stand from their own levels before, frame by frame as the frames are read. Cracks of
 *  either sign cancel where brightness is averaged across the band; their departures, each in units of the noise,
 *  squared and clipped, do not. What departs together over the whole width (a lamp, a drift, the mean of a front) is
 *  taken off first, position by position, and what changes in proportion over the whole picture before that; brightness
 *  tells of those. Each sample is held against the mean of the samples before it, so that noise alone gives
 *  independent departures of one size in every frame. The beginning of the take counts as undisturbed.
 *  State: a few pictures of the band. */
export class Departures {
  private readonly lines: Float64Array[] = [];
  private readonly waiting: Float32Array[] = [];
  private readonly level: Float64Array;
  private readonly count: Uint8Array;
  private noise = 0;
  /** Of the frame in hand: of each pixel, and at each position sum, number and variance over the width. */
  private readonly changes: Float64Array;
  private readonly together: Float64Array;
  private readonly inside: Float64Array;
  private readonly variance: Float64Array;

  /** @param floor  smallest believable noise of a pixel (rounding to whole numbers) */
  constructor(
    rows: number,
    private readonly positions: number,
    private readonly floor: (brightest: number) => number,
  ) {
    this.level = new Float64Array(rows * positions);
    this.count = new Uint8Array(rows * positions);
    this.changes = new Float64Array(rows * positions);
    this.together = new Float64Array(positions);
    this.inside = new Float64Array(positions);
    this.variance = new Float64Array(positions);
  }

  /** @param pixels  row-major, shape [rows, positions]; NaN outside the picture. It is not kept. */
  addFrame(pixels: Float32Array): void {
    if (this.noise > 0) this.depart(pixels);
    else if (this.waiting.push(Float32Array.from(pixels)) === NOISE_FRAMES) this.begin();
  }

  /** Logarithm of the mean square departure, 0 where there is noise alone; row-major, shape [frames, positions]. */
  streak(): Float64Array {
    if (this.noise === 0) this.begin();
    const data = new Float64Array(this.lines.length * this.positions);
    this.lines.forEach((line, i) => {
      data.set(line, i * this.positions);
    });
    return data;
  }

  private begin(): void {
    let brightest = 0;
    for (const picture of this.waiting)
      for (let at = 0; at < picture.length; at++) if (picture[at] > brightest) brightest = picture[at];
    this.noise = noiseOfPixels(this.waiting, this.floor(brightest));
    for (const picture of this.waiting.splice(0)) this.depart(picture);
  }

  private depart(pixels: Float32Array): void {
    const { positions, level, count, noise, together, inside, variance } = this;
    const light = this.lightOf(pixels);
    const isFirst = this.lines.length === 0;
    const line = new Float64Array(positions);
    together.fill(0);
    inside.fill(0);
    for (let row = 0; row < level.length; row += positions) this.addRow(pixels, row, light);
    if (isFirst) {
      level.set(this.changes.map((change) => (Number.isNaN(change) ? 0 : change)));
      count.fill(1);
      line.set(inside);
    } else {
      // In units of that of a pixel: less the mean over the width, and with that of the level.
      for (let p = 0; p < positions; p++) variance[p] = noise * noise * (1 - 1 / inside[p]);
      for (let row = 0; row < level.length; row += positions) this.squareRow(row, line);
    }
    for (let p = 0; p < positions; p++)
      line[p] = inside[p] >= LEAST_ROWS ? Math.log(Math.max(LEAST_SQUARE, line[p] / inside[p])) : 0;
    this.lines.push(line);
  }

  /** Changes of one row, and their sums. A row at a time: the loops are compiled while the first frames are read. */
  private addRow(pixels: Float32Array, row: number, light: number): void {
    const { positions, level, changes, together, inside } = this;
    for (let p = 0, at = row; p < positions; p++, at++) {
      const change = pixels[at] / light - level[at];
      changes[at] = change;
      if (Number.isNaN(change)) continue;
      together[p] += change;
      inside[p]++;
    }
  }

  /** Squared departures of one row, added to the line; what is near its level joins it. */
  private squareRow(row: number, line: Float64Array): void {
    const { positions, level, count, changes, together, inside, variance } = this;
    for (let p = 0, at = row; p < positions; p++, at++) {
      const change = changes[at];
      if (Number.isNaN(change)) continue;
      const apart = change - together[p] / inside[p];
      const square = (apart * apart) / (variance[p] * (1 + 1 / count[at]));
      line[p] += Math.min(square, CLIP * CLIP);
      if (square < JOINS * JOINS && count[at] < LEVEL_FRAMES) {
        count[at]++;
        level[at] += change / count[at];
      }
    }
  }

  /** Light of a frame against that of the levels: the median ratio over the bright pixels. */
  private lightOf(pixels: Float32Array): number {
    if (this.lines.length === 0) return 1;
    const stride = Math.max(1, Math.floor(pixels.length / LIGHT_PIXELS));
    const ratios: number[] = [];
    for (let at = 0; at < pixels.length; at += stride)
      if (this.level[at] > LEAST_LEVEL * this.noise && !Number.isNaN(pixels[at]))
        ratios.push(pixels[at] / this.level[at]);
    return ratios.length < LEAST_LIGHT_PIXELS ? 1 : Math.max(1e-3, median(ratios));
  }
}

/** Standard deviation of a pixel's noise, from differences of successive frames; the few pixels that something passes
 *  are left out.
 *  @param floor  smallest believable */
function noiseOfPixels(pictures: readonly Float32Array[], floor: number): number {
  const found: number[] = [];
  const stride = Math.max(1, Math.floor(pictures[0].length / LIGHT_PIXELS));
  for (let k = 1; k < pictures.length; k++) {
    const [before, picture] = [pictures[k - 1], pictures[k]];
    const ratios: number[] = [];
    for (let at = 0; at < picture.length; at += stride)
      if (before[at] > 0) ratios.push(picture[at] / before[at]);
    const light = median(ratios);
    for (let at = 0; at < picture.length; at += stride) {
      const difference = picture[at] / (light > 0 ? light : 1) - before[at];
      if (!Number.isNaN(difference)) found.push(difference * difference);
    }
  }
  if (found.length === 0) return floor;
  // The upper quartile of a squared normal difference is 1.32 of its variance, and what three standard deviations leave
  // has 0.973 of it.
  const squares = Float64Array.from(found).sort();
  const quartile = squares[Math.floor(0.75 * (squares.length - 1))];
  let variance = Math.max(quartile / 1.3233, 2 * floor * floor);
  for (let round = 0; round < ROUNDS; round++) {
    const within = squares.filter((square) => square < 9 * variance);
    const sum = within.reduce((total, square) => total + square, 0);
    variance = Math.max(sum / within.length / 0.9733, 2 * floor * floor);
  }
  return Math.sqrt(variance / 2);
}
