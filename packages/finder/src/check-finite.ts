import type { NdArray } from "ndarray";
import type { FrameSamples } from "./types.js";

/** A sample that is no number would hide whatever happens in its frame.
 *  @param number  of the frame, for the message
 *  @throws RangeError with the code `samples-not-finite` */
export function checkFinite({ data, shape, stride, offset }: NdArray<FrameSamples>, number: number): void {
  if (!(data instanceof Float32Array)) return;
  const [rows, columns] = shape;
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const value = data[offset + row * stride[0] + column * stride[1]];
      if (Number.isFinite(value)) continue;
      const message = `frame ${number} must hold finite samples, got ${value} at row ${row}, column ${column} of the part looked at`;
      throw Object.assign(new RangeError(message), { code: "samples-not-finite" });
    }
}
