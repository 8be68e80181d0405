import { type NormalSample, sampleNormal } from "./normal-distribution.js";

/** How the front looks along the path: `step` leaves a new level behind, `pulse` passes and leaves nothing. */
export type ProfileShape = "step" | "pulse";

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
const atHalfBox: NormalSample = { density: 0, distribution: 0 };

/** Distance from the front beyond which the profile no longer changes, px. */
export function profileReach(blur: number, smear: number): number {
  return 5 * blur + smear / 2 + 1;
}

/** Samples the profile at `behind` px behind the front: a Gaussian blur of standard deviation `blur` px, spread
 *  over the smear of the exposure, `smear` px. A pixel collects light over its own width, so the shorter of
 *  smear and pixel enters the blur as w²/12 and the longer is integrated exactly; with both near a pixel that
 *  is within 1e-4 of the double integral for blurs of half a pixel and more. */
export function sampleProfile(
  shape: ProfileShape,
  behind: number,
  blur: number,
  smear: number,
  into: ProfileSample,
): void {
  const { box, sigma } = edgeKernel(blur, smear);
  const blurShare = (blur / sigma) ** 2;
  const a = (behind + box / 2) / sigma;
  const b = (behind - box / 2) / sigma;
  sampleNormal(a, atA);
  sampleNormal(b, atB);
  const step = (atA.distribution - atB.distribution) / box;
  if (shape === "step") {
    // The integral of Φ is K(z) = zΦ(z) + φ(z).
    const integral = a * atA.distribution + atA.density - (b * atB.distribution + atB.density);
    into.value = b > 8 ? 1 : a < -8 ? 0 : (sigma * integral) / box;
    into.byDistance = step;
    // d/dσ of σ K(x/σ) is φ(x/σ).
    into.byLogBlur = (blurShare * sigma * (atA.density - atB.density)) / box;
    return;
  }
  sampleNormal(box / (2 * sigma), atHalfBox);
  const height = (2 * atHalfBox.distribution - 1) / box;
  const heightBySigma = -atHalfBox.density / (sigma * sigma);
  into.value = step / height;
  into.byDistance = (atA.density - atB.density) / (sigma * box * height);
  const stepBySigma = (-a * atA.density + b * atB.density) / (sigma * box);
  into.byLogBlur = (blurShare * sigma * (stepBySigma * height - step * heightBySigma)) / (height * height);
}

/** What an edge is averaged over: the longer of smear and pixel evenly, the rest as a Gaussian of that standard deviation, px. */
export function edgeKernel(blur: number, smear: number): { readonly box: number; readonly sigma: number } {
  return { box: Math.max(smear, 1), sigma: Math.sqrt(blur * blur + Math.min(smear, 1) ** 2 / 12) };
}

/** Standard deviation of an edge that is averaged over pixels, px. */
export function edgeWidth(blurPixels: number, smearPixels: number): number {
  return Math.sqrt(blurPixels ** 2 + (1 + smearPixels ** 2) / 12);
}
