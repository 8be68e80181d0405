import { type EdgeForm, edgeKernel, type ProfileSample, sampleProfile } from "../model/edge-profile.js";
import { type NormalSample, sampleNormal } from "../model/normal-distribution.js";

/** A front's edge, as blurred and smeared as it is. */
export interface EdgeLook {
  readonly blurPixels: number;
  readonly smearPixels: number;
  /** Default: gaussian. */
  readonly form?: EdgeForm | undefined;
}

const edge: ProfileSample = { value: 0, byDistance: 0, byLogBlur: 0 };
const normal: NormalSample = { density: 0, distribution: 0 };

/** Part of the blur over which an edge changes little. */
const STEP = 0.7;
/** Standard normal density at 0. */
const DENSITY_AT_0 = 1 / Math.sqrt(2 * Math.PI);

/** How a glow falls off ahead of a front and meets it: by e in every length, and it ends at the front and is blurred with it (`ended`), or the
 *  front covers it by its own blurred edge (`covered`, and the others); as a Gaussian of that standard deviation (`bell`); with the inverse
 *  square of the distance, from a length on: from the front on (`tailed`), or level close to it (`rounded`). */
export type GlowForm = "ended" | "covered" | FallingForm;
/** Forms that an edge covers, of which what is left so many lengths ahead of the front has an integral, and its product with the edge none. */
type FallingForm = "bell" | "tailed" | "rounded";
/** That integral over the lengths ahead, but for a constant. */
const UP_TO: Readonly<Record<FallingForm, (ahead: number) => number>> = {
  bell: (ahead) => {
    sampleNormal(ahead, normal);
    return normal.distribution / DENSITY_AT_0;
  },
  tailed: (ahead) => -1 / (1 + ahead),
  rounded: Math.atan,
};
/** So many of its standard deviations ahead of an edge nothing is covered, to 3 parts in 10 million. */
const UNCOVERED = 5;

/** A glow that is 1 at a front and falls off ahead of it, behind it none, as blurred and smeared as the front.
 *  @param behind  how far the front has passed the place, px; negative ahead
 *  @param lengthPixels  > 0 */
export function glowAt(
  behind: number,
  lengthPixels: number,
  form: GlowForm,
  { blurPixels, smearPixels }: EdgeLook,
): number {
  const { box, sigma } = edgeKernel(blurPixels, smearPixels);
  if (form in UP_TO) return meanOverBox(behind, lengthPixels, form as FallingForm, { box, sigma });
  const integral = form === "covered" ? integralOfCovered : integralOfEnded;
  const upTo = (end: number) => integral(end, lengthPixels, sigma);
  return (upTo(behind + box / 2) - upTo(behind - box / 2)) / box;
}

/** Of what an edge blurred by σ covers: in steps over which the edge changes little, the glow being integrated over each. */
function meanOverBox(
  behind: number,
  length: number,
  form: FallingForm,
  { box, sigma }: ReturnType<typeof edgeKernel>,
): number {
  const upTo = UP_TO[form];
  const atFront = upTo(0);
  // As bright behind the front as at it.
  const lightUpTo = (at: number) => (at < 0 ? -length * (upTo(-at / length) - atFront) : at);
  const begin = behind - box / 2;
  const steps = begin + box < -UNCOVERED * sigma ? 1 : Math.ceil(box / (STEP * sigma));
  let sum = 0;
  let before = lightUpTo(begin);
  for (let k = 1; k <= steps; k++) {
    const after = lightUpTo(begin + (box * k) / steps);
    sampleNormal((begin + (box * (k - 0.5)) / steps) / sigma, normal);
    sum += (1 - normal.distribution) * (after - before);
    before = after;
  }
  return sum / box;
}

/** How far a front covers a place, 0..1. */
export function edgeAt(behind: number, { blurPixels, smearPixels, form }: EdgeLook): number {
  sampleProfile("step", behind, blurPixels, smearPixels, edge, form);
  return edge.value;
}

/** Of an exponential that ends at 0 and is blurred: Φ(−x/σ − σ/L)·exp(x/L + σ²/2L²), but for a constant. */
function integralOfEnded(behind: number, length: number, sigma: number): number {
  sampleNormal(behind / sigma, normal);
  const passed = normal.distribution;
  sampleNormal(-behind / sigma - sigma / length, normal);
  const tail = normal.distribution;
  const rest = tail > 0 ? tail * Math.exp(behind / length + 0.5 * (sigma / length) ** 2) : 0;
  return length * (passed + rest);
}

/** Of an exponential, constant behind 0, that an edge blurred by σ covers: (1 − Φ(x/σ))·exp(min(0, x)/L), but for a constant. */
function integralOfCovered(behind: number, length: number, sigma: number): number {
  const ahead = Math.min(0, behind);
  sampleNormal(ahead / sigma, normal);
  const uncovered = 1 - normal.distribution;
  sampleNormal(ahead / sigma - sigma / length, normal);
  const upToFront =
    length *
    (uncovered * Math.exp(ahead / length) + normal.distribution * Math.exp(0.5 * (sigma / length) ** 2));
  if (behind <= 0) return upToFront;
  sampleNormal(behind / sigma, normal);
  return upToFront + behind * (1 - normal.distribution) - sigma * (normal.density - DENSITY_AT_0);
}
