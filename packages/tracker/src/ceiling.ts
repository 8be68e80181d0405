import type { NdArray } from "ndarray";
import type { FrameSamples } from "./types.js";

/** Counts the samples at the largest value met, and those of 0. */
export class Ceiling {
  value = Number.NEGATIVE_INFINITY;
  private count = 0;
  private zeros = 0;
  private total = 0;

  addFrame(picture: NdArray<FrameSamples>): void {
    const [rows, columns] = picture.shape;
    const { data, offset, stride } = picture;
    const [byRow, byColumn] = stride;
    const isWhole = data instanceof Uint8Array || data instanceof Uint16Array;
    for (let r = 0; r < rows; r++) {
      const from = offset + r * byRow;
      if (isWhole && byColumn === 1) this.addWhole(data.subarray(from, from + columns));
      else for (let c = 0, at = from; c < columns; c++, at += byColumn) this.add(data[at]);
    }
    this.total += rows * columns;
  }

  /** Whole samples, of which few are 0 or reach the largest: one comparison finds both. */
  private addWhole(samples: Uint8Array | Uint16Array): void {
    // Whole numbers from the first on: before any sample was met nothing is below the largest but one.
    let last = Math.max(0, this.value - 1) >>> 0;
    for (let k = 0; k < samples.length; k++) {
      // 0 − 1 is beyond every sample.
      if ((samples[k] - 1) >>> 0 < last) continue;
      this.add(samples[k]);
      last = Math.max(0, this.value - 1) >>> 0;
    }
  }

  private add(sample: number): void {
    if (sample === 0) this.zeros++;
    if (sample < this.value) return;
    if (sample > this.value) {
      this.value = sample;
      this.count = 0;
    }
    if (sample === this.value) this.count++;
  }

  get share(): number {
    return this.count / this.total;
  }

  get zeroShare(): number {
    return this.zeros / this.total;
  }
}
