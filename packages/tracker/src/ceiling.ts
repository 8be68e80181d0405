import type { NdArray } from "ndarray";
import type { FrameSamples } from "./types.js";

/** Counts the samples at the largest value met. */
export class Ceiling {
  value = Number.NEGATIVE_INFINITY;
  private count = 0;
  private total = 0;

  addFrame(picture: NdArray<FrameSamples>): void {
    const [rows, columns] = picture.shape;
    const { data, offset, stride } = picture;
    const [byRow, byColumn] = stride;
    let { value, count } = this;
    for (let r = 0; r < rows; r++)
      for (let c = 0, at = offset + r * byRow; c < columns; c++, at += byColumn) {
        const sample = data[at];
        if (sample < value) continue;
        if (sample > value) {
          value = sample;
          count = 0;
        }
        if (sample === value) count++;
      }
    this.value = value;
    this.count = count;
    this.total += rows * columns;
  }

  get share(): number {
    return this.count / this.total;
  }
}
