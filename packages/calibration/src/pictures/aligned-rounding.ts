/** The rounding of the samples across an edge is another, as a whole, where the brightness has changed by so many steps from one line
 *  across it to the next. Seen: 5 to 20. */
const STEPS_TO_ANOTHER = 10;

export interface RoundedEdge {
  readonly directionRadians: number;
  /** Standard deviation, the pixel in it. */
  readonly blurPixels: number;
  /** Of the edge that is fitted. */
  readonly lengthPixels: number;
  /** Between its two levels, in the unit of the samples. */
  readonly step: number;
  /** What a fit leaves of the samples, root mean square. */
  readonly left: number;
  /** Standard deviation of the rounding of the samples. */
  readonly rounding: number;
}

/** What rounding leaves open of the place of an edge that runs along the pixels, px. All lines across it are rounded alike there, and
 *  their number does not help: it is the error of one line at the bound of Cramér and Rao. Noise of half a step makes them differ,
 *  and then it is in what the fit leaves. */
export function alignedRounding(edge: RoundedEdge): number {
  const { directionRadians, blurPixels, lengthPixels, step, left, rounding } = edge;
  if (rounding === 0) return 0;
  const ofLine = (rounding / Math.abs(step)) * Math.sqrt(2 * Math.sqrt(Math.PI) * blurPixels);
  const noiseSquare = Math.max(0, left ** 2 - rounding ** 2) / (12 * rounding ** 2);
  const sides = [Math.sin(directionRadians), Math.cos(directionRadians)].map(Math.abs);
  const shift = (lengthPixels * Math.min(...sides)) / Math.max(...sides);
  const steepest = Math.abs(step) / (Math.sqrt(2 * Math.PI) * blurPixels);
  const lines = 1 + (shift * steepest) / (Math.sqrt(12) * rounding * STEPS_TO_ANOTHER);
  return (ofLine * Math.exp(-2 * Math.PI ** 2 * noiseSquare)) / Math.sqrt(lines);
}
