import { blurred, type Field, sampleAt } from "../pictures/field.js";
import { noiseOf } from "../pictures/noise-of.js";
import { peaksOf } from "../pictures/peaks.js";
import { noiseGain, secondDerivatives } from "../pictures/second-derivatives.js";
import type { Candidate } from "./grow-lattice.js";

/** Blur in which saddles are sought, px. */
const SIGMA = 1.5;
/** Circle on which a saddle must show two bright and two dark sectors, px. */
const RADIUS = 4;
const SAMPLES = 32;
const MOST = 3000;
/** What saddles of noise alone hardly reach, in its standard deviations. */
const ABOVE_NOISE = 4;

/** Places where two dark and two bright quarters meet: saddles of the brightness whose circle is the same after half a
 *  turn. Both hold whatever the light, the exposure and the curve of the samples. */
export function cornerCandidates(field: Field): Candidate[] {
  if (Math.min(field.rows, field.columns) < 4 * RADIUS) return [];
  const { xx, xy, yy } = secondDerivatives(field, SIGMA);
  const response = xy.map((value, at) => value * value - xx[at] * yy[at]);
  const peaks = peaksOf({ ...field, data: response }, 3, MOST);
  const smooth = blurred(field, 0.8);
  const least = (ABOVE_NOISE * noiseOf(field) * noiseGain(SIGMA).mixed) ** 2;
  return peaks.flatMap(({ x, y, value }) => {
    if (value < least) return [];
    const angles = sectorsAround(smooth, x, y);
    return angles ? [{ x, y, strength: value, ...angles }] : [];
  });
}

/** The two lines along which dark turns to bright, and bright to dark, in the sense in which angles grow.
 *  @returns null where the circle does not show two bright and two dark sectors, alike after half a turn */
function sectorsAround(field: Field, x: number, y: number): { rising: number; falling: number } | null {
  const ring = Array.from({ length: SAMPLES }, (_, k) => {
    const angle = (2 * Math.PI * k) / SAMPLES;
    return sampleAt(field, x + RADIUS * Math.cos(angle), y + RADIUS * Math.sin(angle));
  });
  const half = SAMPLES / 2;
  const even = ring.slice(0, half).map((value, k) => (value + ring[k + half]) / 2);
  const odd = ring.slice(0, half).map((value, k) => (value - ring[k + half]) / 2);
  const sorted = [...even].sort((a, b) => a - b);
  const middle = (sorted[1] + sorted[half - 2]) / 2;
  const signal = even.map((value) => value - middle);
  const power = (values: readonly number[]) => values.reduce((sum, value) => sum + value * value, 0);
  if (power(odd) > 0.3 * power(signal)) return null;
  const turns = signal.flatMap((value, k) => {
    const next = signal[(k + 1) % half];
    if (value < 0 === next < 0) return [];
    const at = ((k + value / (value - next)) * Math.PI) / half;
    return [{ at, isRising: value < 0 }];
  });
  if (turns.length !== 2) return null;
  const rising = turns.find(({ isRising }) => isRising);
  const falling = turns.find(({ isRising }) => !isRising);
  return rising && falling ? { rising: rising.at, falling: falling.at } : null;
}
