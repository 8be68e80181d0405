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
    for (let r = 0; r < rows; r++)
      for (let c = 0, at = offset + r * stride[0]; c < columns; c++, at += stride[1]) {
        if (data[at] > this.value) {
          this.value = data[at];
          this.count = 0;
        }
        if (data[at] === this.value) this.count++;
      }
    this.total += rows * columns;
  }

  get share(): number {
    return this.count / this.total;
  }
}
