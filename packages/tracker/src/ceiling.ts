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
    let { value, count, zeros } = this;
    for (let r = 0; r < rows; r++)
      for (let c = 0, at = offset + r * byRow; c < columns; c++, at += byColumn) {
        const sample = data[at];
        if (sample === 0) zeros++;
        if (sample < value) continue;
        if (sample > value) {
          value = sample;
          count = 0;
        }
        if (sample === value) count++;
      }
    this.value = value;
    this.count = count;
    this.zeros = zeros;
    this.total += rows * columns;
  }

  get share(): number {
    return this.count / this.total;
  }

  get zeroShare(): number {
    return this.zeros / this.total;
  }
}
