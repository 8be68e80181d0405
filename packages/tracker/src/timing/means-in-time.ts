/** Mean of each position over the frames.
 *  @param data  row-major, shape [frames, positions]
 *  @returns shape (positions,) */
export function meansInTime(data: Float64Array, frames: number, positions: number): Float64Array {
  const means = new Float64Array(positions);
  for (let i = 0; i < frames; i++) addLine(means, data, i * positions);
  for (let p = 0; p < positions; p++) means[p] /= frames;
  return means;
}

function addLine(sums: Float64Array, data: Float64Array, from: number): void {
  for (let p = 0; p < sums.length; p++) sums[p] += data[from + p];
}
