/** How the samples of stills stand to the light: `linear`, in proportion; `srgb` and `bt709`, by the curve of that
 *  standard. */
export type Transfer = "linear" | "srgb" | "bt709";

/** A straight toe and a power: light = V / toeSlope up to toeEnd, ((V + offset) / (1 + offset))^exponent above, for
 *  samples V and light both from 0 to 1. */
interface Curve {
  readonly toeEnd: number;
  readonly toeSlope: number;
  readonly offset: number;
  readonly exponent: number;
}

const curves: Readonly<Record<Exclude<Transfer, "linear">, Curve>> = {
  srgb: { toeEnd: 0.04045, toeSlope: 12.92, offset: 0.055, exponent: 2.4 },
  bt709: { toeEnd: 0.081, toeSlope: 4.5, offset: 0.099, exponent: 1 / 0.45 },
};

/** All names, in the order of the documentation. */
export const transfers: readonly Transfer[] = ["linear", "srgb", "bt709"];

/** The light in proportion to which a sample was made.
 *  @param sample  0..1, black to white
 *  @returns 0..1
 *  @see IEC 61966-2-1:1999, 5.2 (srgb); ITU-R BT.709-6 (2015), item 1.2, inverted (bt709) */
export function linearLight(transfer: Transfer, sample: number): number {
  if (transfer === "linear") return sample;
  const { toeEnd, toeSlope, offset, exponent } = curves[transfer];
  return sample <= toeEnd ? sample / toeSlope : ((sample + offset) / (1 + offset)) ** exponent;
}

/** Change of the light for a small change of the sample, where the light is `light`: the derivative of
 *  {@link linearLight}, by the light it gives.
 *  @param light  0..1; outside, as at the nearer end */
export function lightPerSample(transfer: Transfer, light: number): number {
  if (transfer === "linear") return 1;
  const { toeEnd, toeSlope, offset, exponent } = curves[transfer];
  if (light <= toeEnd / toeSlope) return 1 / toeSlope;
  return (exponent / (1 + offset)) * Math.min(1, light) ** (1 - 1 / exponent);
}
