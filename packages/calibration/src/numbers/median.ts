/** Mean of the two middle values where their number is even. */
export function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}
