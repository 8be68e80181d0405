import type { Field } from "../pictures/field.js";
import { noiseOf } from "../pictures/noise-of.js";
import { peaksOf } from "../pictures/peaks.js";
import { type Curvature, noiseGain, secondDerivatives } from "../pictures/second-derivatives.js";
import type { Candidate } from "./grow-lattice.js";

/** Dots of about this radius · √2 stand out most, px; larger ones at a smaller size of the picture. */
const SIGMA = 2.2;
const MOST = 1500;
/** What spots of noise alone hardly reach, in its standard deviations. */
const ABOVE_NOISE = 5;
/** Light may fall to this share of that at one of the strongest spots. */
const SHARE = 0.1;
const RANK = 6;

/** Round spots, dark ones and bright ones. */
export function dotCandidates(field: Field): [dark: Candidate[], bright: Candidate[]] {
  if (Math.min(field.rows, field.columns) < 12) return [[], []];
  const curvature = secondDerivatives(field, SIGMA);
  const noise = ABOVE_NOISE * noiseOf(field) * noiseGain(SIGMA).trace;
  return [spotsOf(field, curvature, 1, noise), spotsOf(field, curvature, -1, noise)];
}

/** @param sense  1: dark spots, -1: bright ones
 *  @param noise  what stands out less is left out */
function spotsOf(field: Field, { xx, xy, yy }: Curvature, sense: 1 | -1, noise: number): Candidate[] {
  const response = xx.map((value, at) => {
    const trace = sense * (value + yy[at]);
    const determinant = value * yy[at] - xy[at] * xy[at];
    // Both curvatures of one sign, the smaller at least a seventh of the larger: not an edge.
    return trace > 0 && determinant > 0.1 * trace * trace ? trace : 0;
  });
  const peaks = peaksOf({ ...field, data: response }, 3, MOST);
  const strong = peaks.length > 0 ? SHARE * peaks[Math.min(RANK, peaks.length - 1)].value : 0;
  return peaks
    .filter(({ value }) => value > Math.max(strong, noise))
    .map(({ x, y, value }) => ({ x, y, strength: value, rising: null, falling: null }));
}
