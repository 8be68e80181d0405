import erf from "@stdlib/math-base-special-erf";

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

const ROOT_2PI = Math.sqrt(2 * Math.PI);

function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / ROOT_2PI;
}

function normalDistribution(z: number): number {
  return 0.5 * (1 + erf(z * Math.SQRT1_2));
}

/** z Φ(z) + φ(z), whose derivative is Φ(z). */
function integralOfDistribution(z: number): number {
  return z * normalDistribution(z) + normalDensity(z);
}

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
  const box = Math.max(smear, 1);
  const sigma = Math.sqrt(blur * blur + Math.min(smear, 1) ** 2 / 12);
  const blurShare = (blur / sigma) ** 2;
  const a = (behind + box / 2) / sigma;
  const b = (behind - box / 2) / sigma;
  const phiA = normalDensity(a);
  const phiB = normalDensity(b);
  const step = (normalDistribution(a) - normalDistribution(b)) / box;
  if (shape === "step") {
    into.value =
      b > 8 ? 1 : a < -8 ? 0 : (sigma * (integralOfDistribution(a) - integralOfDistribution(b))) / box;
    into.byDistance = step;
    // d/dσ of σ K(x/σ) is φ(x/σ) for K(z) = zΦ(z) + φ(z)
    into.byLogBlur = (blurShare * sigma * (phiA - phiB)) / box;
    return;
  }
  const height = (2 * normalDistribution(box / (2 * sigma)) - 1) / box;
  const heightBySigma = (-normalDensity(box / (2 * sigma)) * 1) / (sigma * sigma);
  into.value = step / height;
  into.byDistance = (phiA - phiB) / (sigma * box * height);
  const stepBySigma = (-a * phiA + b * phiB) / (sigma * box);
  into.byLogBlur = (blurShare * sigma * (stepBySigma * height - step * heightBySigma)) / (height * height);
}
