import { type NormalSample, sampleNormal } from "./normal-distribution.js";

/** How the front looks along the path: `step` leaves a new level behind, `pulse` passes and leaves nothing. */
export type ProfileShape = "step" | "pulse";

/** How an edge falls off: as a Gaussian blur makes it, with longer tails, or with shorter ones, as out of focus. They are told apart where a front
 *  is inside the picture at an end of the take: there its tails place it. */
export type EdgeForm = LongTailed | Boxed;
type LongTailed = keyof typeof MIXTURES;
type Boxed = keyof typeof BOX_SHARES;

/** Parts of Gaussian edges and their standard deviations in units of the whole one's: three for the logistic distribution (to 7e-5)
 *  and for Laplace's (to 3e-3), fitted to them by least squares. */
const MIXTURES = {
  logistic: [
    [0.27316, 0.61566],
    [0.58454, 0.97369],
    [0.1423, 1.55093],
  ],
  laplace: [
    [0.17561, 0.25021],
    [0.54733, 0.74763],
    [0.27706, 1.57018],
  ],
} as const;

/** Part of the variance that a box makes up, the rest being Gaussian. With that of a disc of light, as a lens out of focus makes of every point, the
 *  kurtosis is that of a disc, -1, and the edge is within 9e-3 of it. */
const BOX_SHARES = { gaussian: 0, disc: 0.913, ramp: 1 } as const;

/** Those that a Gaussian blur does not make. */
export const OTHER_FORMS = ["logistic", "laplace", "disc", "ramp"] as const satisfies readonly EdgeForm[];

/** Value of the profile and its derivatives; `value` runs from 0 ahead of the front to 1 behind it (step), or
 *  is 1 on the front (pulse). */
export interface ProfileSample {
  value: number;
  /** by the signed distance, per px */
  byDistance: number;
  /** by the logarithm of the blur */
  byLogBlur: number;
}

const atA: NormalSample = { density: 0, distribution: 0 };
const atB: NormalSample = { density: 0, distribution: 0 };
const part: ProfileSample = { value: 0, byDistance: 0, byLogBlur: 0 };
const atHalfBox: NormalSample = { density: 0, distribution: 0 };

/** Distance from the front beyond which the profile no longer changes, px. */
export function profileReach(blur: number, smear: number, form: EdgeForm = "gaussian"): number {
  const widest = isLongTailed(form) ? MIXTURES[form][MIXTURES[form].length - 1][1] : 1;
  return 5 * blur * widest + smear / 2 + 1;
}

function isLongTailed(form: EdgeForm): form is LongTailed {
  return form in MIXTURES;
}

/** Samples the profile at `behind` px behind the front: an edge of the form and standard deviation `blur` px, spread over the smear
 *  of the exposure, `smear` px. Pulses are Gaussian. */
export function sampleProfile(
  shape: ProfileShape,
  behind: number,
  blur: number,
  smear: number,
  into: ProfileSample,
  form: EdgeForm = "gaussian",
): void {
  if (shape === "pulse") samplePulse(behind, edgeKernel(blur, smear), into);
  else if (!isLongTailed(form)) sampleStep(behind, edgeKernel(blur, smear, form), into);
  else {
    into.value = 0;
    into.byDistance = 0;
    into.byLogBlur = 0;
    for (const [share, width] of MIXTURES[form]) {
      sampleStep(behind, edgeKernel(blur * width, smear), part);
      into.value += share * part.value;
      into.byDistance += share * part.byDistance;
      into.byLogBlur += share * part.byLogBlur;
    }
  }
}

/** What an edge is averaged over: evenly over a box, and as a Gaussian. */
interface EdgeKernel {
  /** px */
  readonly box: number;
  /** Standard deviation, px. */
  readonly sigma: number;
  /** Derivatives of the logarithms of both by that of the blur. */
  readonly boxByBlur: number;
  readonly sigmaByBlur: number;
}

/** The longest of smear, pixel and the box of the blur is integrated exactly, and the others enter the Gaussian by their variances: a pixel
 *  collects light over its own width. With smear and pixel both near a pixel that is within 1e-4 of the double integral for blurs of half
 *  a pixel and more. */
export function edgeKernel(blur: number, smear: number, form: Boxed = "gaussian"): EdgeKernel {
  const boxOfBlur = Math.sqrt(12 * BOX_SHARES[form]) * blur;
  const box = Math.max(smear, 1, boxOfBlur);
  const isOfBlur = box === boxOfBlur;
  const ofBlur = isOfBlur ? (1 - BOX_SHARES[form]) * blur * blur : blur * blur;
  const others = isOfBlur ? Math.max(smear, 1) ** 2 + Math.min(smear, 1) ** 2 : Math.min(smear, 1) ** 2;
  const variance = ofBlur + others / 12;
  return { box, sigma: Math.sqrt(variance), boxByBlur: isOfBlur ? 1 : 0, sigmaByBlur: ofBlur / variance };
}

function sampleStep(
  behind: number,
  { box, sigma, boxByBlur, sigmaByBlur }: EdgeKernel,
  into: ProfileSample,
): void {
  const a = (behind + box / 2) / sigma;
  const b = (behind - box / 2) / sigma;
  sampleNormal(a, atA);
  sampleNormal(b, atB);
  // The integral of Φ is K(z) = zΦ(z) + φ(z), and d/dσ of σ K(x/σ) is φ(x/σ).
  const integral = a * atA.distribution + atA.density - (b * atB.distribution + atB.density);
  into.value = b > 8 ? 1 : a < -8 ? 0 : (sigma * integral) / box;
  into.byDistance = (atA.distribution - atB.distribution) / box;
  into.byLogBlur = (sigmaByBlur * sigma * (atA.density - atB.density)) / box;
  if (boxByBlur > 0) into.byLogBlur += boxByBlur * ((atA.distribution + atB.distribution) / 2 - into.value);
}

function samplePulse(behind: number, { box, sigma, sigmaByBlur }: EdgeKernel, into: ProfileSample): void {
  const a = (behind + box / 2) / sigma;
  const b = (behind - box / 2) / sigma;
  sampleNormal(a, atA);
  sampleNormal(b, atB);
  sampleNormal(box / (2 * sigma), atHalfBox);
  const step = (atA.distribution - atB.distribution) / box;
  const height = (2 * atHalfBox.distribution - 1) / box;
  const heightBySigma = -atHalfBox.density / (sigma * sigma);
  into.value = step / height;
  into.byDistance = (atA.density - atB.density) / (sigma * box * height);
  const stepBySigma = (-a * atA.density + b * atB.density) / (sigma * box);
  into.byLogBlur = (sigmaByBlur * sigma * (stepBySigma * height - step * heightBySigma)) / (height * height);
}

/** Standard deviation of an edge that is averaged over pixels, px. */
export function edgeWidth(blurPixels: number, smearPixels: number): number {
  return Math.sqrt(blurPixels ** 2 + (1 + smearPixels ** 2) / 12);
}
