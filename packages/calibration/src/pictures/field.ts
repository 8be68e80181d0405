import type { Picture } from "../types.js";

/** A picture of floating point samples to work on. */
export interface Field {
  readonly data: Float64Array;
  readonly rows: number;
  readonly columns: number;
  /** Standard deviation of the rounding of the samples; left out: not looked at. */
  readonly rounding?: number;
}

/** @throws RangeError where the samples do not fill the picture, or one is not finite */
export function fieldOf({ data, rows, columns }: Picture): Field {
  if (data.length !== rows * columns)
    throw new RangeError(`data must hold rows x columns = ${rows} x ${columns} samples, got ${data.length}`);
  const field = Float64Array.from(data);
  const bad = field.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) throw new RangeError(`data[${bad}] must be finite, got ${field[bad]}`);
  return { data: field, rows, columns };
}

/** Gaussian blur, edges continued by their own sample.
 *  @param sigma  px */
export function blurred({ data, rows, columns }: Field, sigma: number): Field {
  const reach = Math.ceil(3.5 * sigma);
  const raw = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sigma * sigma)),
  );
  const sum = raw.reduce((total, value) => total + value, 0);
  const kernel = Float64Array.from(raw, (value) => value / sum);
  const along = (from: Float64Array, count: number, step: number, lines: number, lineStep: number) => {
    const out = new Float64Array(from.length);
    for (let line = 0; line < lines; line++)
      for (let i = 0; i < count; i++) {
        let value = 0;
        if (i >= reach && i + reach < count) {
          const first = line * lineStep + (i - reach) * step;
          for (let k = 0; k < kernel.length; k++) value += kernel[k] * from[first + k * step];
        } else
          for (let k = -reach; k <= reach; k++) {
            const at = Math.min(Math.max(i + k, 0), count - 1);
            value += kernel[k + reach] * from[line * lineStep + at * step];
          }
        out[line * lineStep + i * step] = value;
      }
    return out;
  };
  const across = along(data, columns, 1, rows, columns);
  return { data: along(across, rows, columns, columns, 1), rows, columns };
}

/** Half the size: means of two by two samples. A place x there is 2 x + 0.5 here. */
export function halved({ data, rows, columns }: Field): Field {
  const [height, width] = [rows >> 1, columns >> 1];
  const half = new Float64Array(height * width);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = 2 * y * columns + 2 * x;
      half[y * width + x] = (data[at] + data[at + 1] + data[at + columns] + data[at + columns + 1]) / 4;
    }
  return { data: half, rows: height, columns: width };
}

/** Between samples by bilinear interpolation; beyond the edge its nearest sample. */
export function sampleAt({ data, rows, columns }: Field, x: number, y: number): number {
  const cx = Math.min(Math.max(x, 0), columns - 1);
  const cy = Math.min(Math.max(y, 0), rows - 1);
  const x0 = Math.min(Math.floor(cx), Math.max(0, columns - 2));
  const y0 = Math.min(Math.floor(cy), Math.max(0, rows - 2));
  const [fx, fy] = [cx - x0, cy - y0];
  const at = y0 * columns + x0;
  const right = columns > 1 ? 1 : 0;
  const down = rows > 1 ? columns : 0;
  const above = (1 - fx) * data[at] + fx * data[at + right];
  return (1 - fy) * above + fy * ((1 - fx) * data[at + down] + fx * data[at + down + right]);
}
