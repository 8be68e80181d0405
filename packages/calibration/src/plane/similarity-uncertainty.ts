import type { Correspondence } from "./check-points.js";

/** Relative standard uncertainty of the scale of a similarity through known points: σ / √Σ r², r their distances from
 *  their middle in the picture. What pointing alone leaves open where a plane is known to be seen square on. */
export function similarityUncertainty(points: readonly Correspondence[], pointingPixels: number): number {
  const mean = (k: 0 | 1) => points.reduce((sum, { pixel }) => sum + pixel[k], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const squares = points.reduce((sum, { pixel }) => sum + (pixel[0] - x) ** 2 + (pixel[1] - y) ** 2, 0);
  return pointingPixels / Math.sqrt(squares);
}
