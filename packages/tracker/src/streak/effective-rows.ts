import { median } from "@frontpace/fit";

/** Frames looked at; what passes later does not come into it. */
const FRAMES = 17;
/** Fewer rows than this do not tell. */
const LEAST_ROWS = 8;
/** A place where rows part by this many times what they usually do shows something that moves, not noise. */
const UNUSUAL = 3;
const LEAST_PLACES = 50;

/** How many rows of independent noise the rows of a band are worth. Mosaics, compression and resampling make the noise
 *  of neighbouring pixels alike, and averaging them then gains less. Told from the first frames as they are read: the
 *  difference of the means of the two halves of the width, against that of single rows as far apart. What changes over
 *  the whole width in time cancels in both. */
export class EffectiveRows {
  private last: Float32Array | null = null;
  private seen = 0;
  private readonly ofRows: number[] = [];
  private readonly ofMeans: number[] = [];

  constructor(
    private readonly rows: number,
    private readonly positions: number,
  ) {}

  /** Whether another frame would still be looked at. */
  get isOpen(): boolean {
    return this.rows >= LEAST_ROWS && this.seen < FRAMES;
  }

  /** @param pixels  row-major, shape [rows, positions]; NaN outside the picture. It is not kept. */
  addFrame(pixels: Float32Array): void {
    if (!this.isOpen) return;
    this.seen++;
    const { last, positions } = this;
    this.last = Float32Array.from(pixels);
    if (!last) return;
    const half = this.rows >> 1;
    const away = half * positions;
    for (let p = 0; p < positions; p++) {
      let squares = 0;
      let sum = 0;
      for (let r = 0, at = p; r < half; r++, at += positions) {
        const apart = pixels[at] - last[at] - (pixels[at + away] - last[at + away]);
        squares += apart * apart;
        sum += apart;
      }
      if (!(squares > 0)) continue;
      this.ofRows.push(squares / half);
      this.ofMeans.push((sum / half) ** 2);
    }
  }

  /** @returns 1 to the number of rows; null where the rows, the frames or their noise are too few to tell */
  count(): number | null {
    const { ofRows, ofMeans, rows } = this;
    const most = UNUSUAL * median(ofRows);
    let single = 0;
    let mean = 0;
    let places = 0;
    ofRows.forEach((square, k) => {
      if (square > most) return;
      single += square;
      mean += ofMeans[k];
      places++;
    });
    if (places < LEAST_PLACES || mean === 0) return null;
    return Math.max(1, Math.min(rows, (single / mean) * (rows / (rows >> 1))));
  }
}
