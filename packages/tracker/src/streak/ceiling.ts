import type { NdArray } from "ndarray";
import type { FrameSamples } from "../types.js";

const TOGETHER = 4;

/** Such samples are finite. */
export function isOfWholeNumbers(data: FrameSamples): data is Uint8Array | Uint16Array {
  return data instanceof Uint8Array || data instanceof Uint16Array;
}

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
    for (let r = 0; r < rows; r++) {
      const from = offset + r * byRow;
      if (byColumn === 1 && isOfWholeNumbers(data)) this.addWhole(data.subarray(from, from + columns));
      else for (let c = 0, at = from; c < columns; c++, at += byColumn) this.add(data[at]);
    }
    this.total += rows * columns;
  }

  /** Whole samples, of which few are 0 or reach the largest: one comparison finds both, and four samples are looked at together. */
  private addWhole(samples: Uint8Array | Uint16Array): void {
    let last = this.lastBelow();
    const whole = samples.length - (samples.length % TOGETHER);
    for (let k = 0; k < whole; k += TOGETHER) {
      // 0 − 1 is beyond every sample.
      const a = (samples[k] - 1) >>> 0;
      const b = (samples[k + 1] - 1) >>> 0;
      const c = (samples[k + 2] - 1) >>> 0;
      const d = (samples[k + 3] - 1) >>> 0;
      if (a < last && b < last && c < last && d < last) continue;
      for (let n = k; n < k + TOGETHER; n++) this.add(samples[n]);
      last = this.lastBelow();
    }
    for (let k = whole; k < samples.length; k++) this.add(samples[k]);
  }

  /** A whole number from the first on: before any sample was met nothing is below the largest. */
  private lastBelow(): number {
    return Math.max(0, this.value - 1) >>> 0;
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
