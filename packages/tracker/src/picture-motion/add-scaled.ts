/** Adds a factor times values to sums, the first of them to that at `at`. */
export function addScaled(sums: Float64Array, at: number, values: Float64Array, factor: number): void {
  for (let n = 0; n < values.length; n++) sums[at + n] += factor * values[n];
}
