import type { Field } from "./field.js";

/** Standard deviation of white noise in a picture: median of a second difference in both directions, which flat areas,
 *  slopes and straight edges along the axes leave at zero.
 *  @see Immerkær, Comput. Vis. Image Underst. 64 (1996) 300 (the operator; citation from memory) */
export function noiseOf({ data, rows, columns }: Field): number {
  const step = Math.max(1, Math.floor(Math.sqrt((rows * columns) / 40_000)));
  const sizes: number[] = [];
  for (let y = 1; y < rows - 1; y += step)
    for (let x = 1; x < columns - 1; x += step) {
      const row = (dy: number) => {
        const at = (y + dy) * columns + x;
        return data[at - 1] - 2 * data[at] + data[at + 1];
      };
      sizes.push(Math.abs(row(-1) - 2 * row(0) + row(1)));
    }
  const sorted = Float64Array.from(sizes).sort();
  return (sorted[sorted.length >> 1] ?? 0) / (6 * NORMAL_QUARTILE);
}

/** Median size of a standard normal number. */
const NORMAL_QUARTILE = 0.6744897501960817;
