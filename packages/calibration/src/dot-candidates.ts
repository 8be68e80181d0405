import type { Field } from "./field.js";
import type { Candidate } from "./grow-lattice.js";
import { noiseOf } from "./noise-of.js";
import { peaksOf } from "./peaks.js";
import { noiseGain, secondDerivatives } from "./second-derivatives.js";

/** Dots of about this radius · √2 stand out most, px; larger ones at a smaller size of the picture. */
const SIGMA = 2.2;
const MOST = 1500;
/** What spots of noise alone hardly reach, in its standard deviations. */
const ABOVE_NOISE = 5;
/** Light may fall to this share of that at one of the strongest spots. */
const SHARE = 0.1;
const RANK = 6;

/** Round spots, dark ones or bright ones.
 *  @param sense  1: dark spots, -1: bright ones */
export function dotCandidates(field: Field, sense: 1 | -1): Candidate[] {
  if (Math.min(field.rows, field.columns) < 12) return [];
  const { xx, xy, yy } = secondDerivatives(field, SIGMA);
  const response = xx.map((value, at) => {
    const trace = sense * (value + yy[at]);
    const determinant = value * yy[at] - xy[at] * xy[at];
    // Both curvatures of one sign, the smaller at least a seventh of the larger: not an edge.
    return trace > 0 && determinant > 0.1 * trace * trace ? trace : 0;
  });
  const peaks = peaksOf({ ...field, data: response }, 3, MOST);
  const noise = ABOVE_NOISE * noiseOf(field) * noiseGain(SIGMA).trace;
  const strong = peaks.length > 0 ? SHARE * peaks[Math.min(RANK, peaks.length - 1)].value : 0;
  return peaks
    .filter(({ value }) => value > Math.max(strong, noise))
    .map(({ x, y, value }) => ({ x, y, strength: value, rising: null, falling: null }));
}
