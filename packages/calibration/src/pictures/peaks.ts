import type { Field } from "./field.js";

export interface Peak {
  readonly x: number;
  readonly y: number;
  readonly value: number;
}

/** Local maxima above zero, strongest first, none within `distance` px of the edge or of a stronger one next to it. Of equal
 *  ones that stand together, the first counts.
 *  @param most  so many at most */
export function peaksOf({ data, rows, columns }: Field, distance: number, most: number): Peak[] {
  const peaks: Peak[] = [];
  for (let y = distance; y < rows - distance; y++)
    for (let x = distance; x < columns - distance; x++) {
      const value = data[y * columns + x];
      if (value > 0 && isHighest(data, columns, x, y, distance, value)) peaks.push({ x, y, value });
    }
  return peaks.sort((a, b) => b.value - a.value).slice(0, most);
}

function isHighest(
  data: Float64Array,
  columns: number,
  x: number,
  y: number,
  distance: number,
  value: number,
): boolean {
  for (let dy = -distance; dy <= distance; dy++)
    for (let dx = -distance; dx <= distance; dx++) {
      const other = data[(y + dy) * columns + x + dx];
      const isBefore = dy < 0 || (dy === 0 && dx < 0);
      if (other > value || (other === value && isBefore)) return false;
    }
  return true;
}
