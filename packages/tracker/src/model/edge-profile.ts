import { type NormalSample, sampleNormal } from "./normal-distribution.js";

/** How the front looks along the path: `step` leaves a new level behind; `pulse` passes and leaves nothing; so does `pair`, a bright line and a
 *  dark one close together, as a shock casts its shadow. */
export type ProfileShape = "step" | "pulse" | "pair";

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

/** Value of the profile and its derivatives; `value` runs from 0 ahead of the front to 1 behind it (step), is 1 on the front
 *  (pulse), or 1 on the line that leads and -1 on the one that follows (pair). */
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
 *  of the exposure, `smear` px. Pulses are Gaussian, pairs the slope of one. */
export function sampleProfile(
  shape: ProfileShape,
  behind: number,
  blur: number,
  smear: number,
  into: ProfileSample,
  form: EdgeForm = "gaussian",
): void {
  if (shape === "pulse") samplePulse(behind, blur, smear, into);
  else if (shape === "pair") samplePair(behind, blur, smear, into);
  else if (form === "gaussian") sampleGaussian(behind, blur, smear, into);
  else if (isLongTailed(form)) sampleMixture(behind, blur, smear, MIXTURES[form], into);
  else sampleBoxed(behind, blur, smear, BOX_SHARES[form], into);
}

/** What a Gaussian edge is averaged over: the longer of smear and pixel evenly, the rest as a Gaussian of that standard deviation, px. A pixel
 *  collects light over its own width, so the shorter of smear and pixel enters the blur as w²/12 and the longer is integrated exactly; with
 *  both near a pixel that is within 1e-4 of the double integral for blurs of half a pixel and more. */
export function edgeKernel(blur: number, smear: number): { readonly box: number; readonly sigma: number } {
  return { box: Math.max(smear, 1), sigma: Math.sqrt(blur * blur + Math.min(smear, 1) ** 2 / 12) };
}

function sampleGaussian(behind: number, blur: number, smear: number, into: ProfileSample): void {
  const { box, sigma } = edgeKernel(blur, smear);
  sampleStep(behind, box, sigma, (blur / sigma) ** 2, into);
}

function sampleMixture(
  behind: number,
  blur: number,
  smear: number,
  mixture: (typeof MIXTURES)[LongTailed],
  into: ProfileSample,
): void {
  into.value = 0;
  into.byDistance = 0;
  into.byLogBlur = 0;
  for (const [share, width] of mixture) {
    sampleGaussian(behind, blur * width, smear, part);
    into.value += share * part.value;
    into.byDistance += share * part.byDistance;
    into.byLogBlur += share * part.byLogBlur;
  }
}

/** @param boxShare  part of the variance of the blur that a box makes up: the longest of it, smear and pixel is integrated exactly */
function sampleBoxed(
  behind: number,
  blur: number,
  smear: number,
  boxShare: number,
  into: ProfileSample,
): void {
  const box = Math.sqrt(12 * boxShare) * blur;
  if (box < Math.max(smear, 1)) {
    sampleGaussian(behind, blur, smear, into);
    return;
  }
  const ofBlur = (1 - boxShare) * blur * blur;
  const variance = ofBlur + (smear * smear + 1) / 12;
  sampleStep(behind, box, Math.sqrt(variance), ofBlur / variance, into);
  // The box is as much longer as the blur: d/d ln w of the mean over it.
  into.byLogBlur += (atA.distribution + atB.distribution) / 2 - into.value;
}

/** @param sigmaByBlur  derivative of the logarithm of `sigma` by that of the blur */
function sampleStep(
  behind: number,
  box: number,
  sigma: number,
  sigmaByBlur: number,
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
}

function samplePulse(behind: number, blur: number, smear: number, into: ProfileSample): void {
  const { box, sigma } = edgeKernel(blur, smear);
  const blurShare = (blur / sigma) ** 2;
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
  into.byLogBlur = (blurShare * sigma * (stepBySigma * height - step * heightBySigma)) / (height * height);
}

/** Largest value of z φ(z), at z = 1. */
const STEEPEST = Math.exp(-0.5) / Math.sqrt(2 * Math.PI);

function samplePair(behind: number, blur: number, smear: number, into: ProfileSample): void {
  const { box, sigma } = edgeKernel(blur, smear);
  const a = (behind + box / 2) / sigma;
  const b = (behind - box / 2) / sigma;
  sampleNormal(a, atA);
  sampleNormal(b, atB);
  const size = 1 / (STEEPEST * box);
  into.value = size * sigma * (atA.density - atB.density);
  into.byDistance = size * (b * atB.density - a * atA.density);
  const bySigma = size * ((1 + a * a) * atA.density - (1 + b * b) * atB.density);
  // d sigma / d log(blur) is blur² / sigma.
  into.byLogBlur = ((blur * blur) / sigma) * bySigma;
}

/** Standard deviation of an edge that is averaged over pixels, px. */
export function edgeWidth(blurPixels: number, smearPixels: number): number {
  return Math.sqrt(blurPixels ** 2 + (1 + smearPixels ** 2) / 12);
}
