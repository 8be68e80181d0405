import { transferOf } from "../pictures/sampling-uncertainty.js";

/** By how much more a least-squares fit is moved than the mean over the rim: sharp edges lie in few pixels. Seen: 1.4. */
const BY_FEW_PIXELS = Math.SQRT2;

/** What the unknown aperture of the pixels leaves open of each coordinate of a dot's centre, px, as `samplingUncertainty` has it for
 *  straight edges. Only where the rim runs along rows or columns do all its pixels see it alike: of the shifts by T / π · sin(2π x)
 *  on a circle, 2 T / π · J₁(2π r) · cos(2π x) remains of the centre, root mean square T / (π² √r). */
export function rimSampling(radiusPixels: number, blurPixels: number): number {
  return (BY_FEW_PIXELS * transferOf(blurPixels)) / (Math.PI ** 2 * Math.sqrt(radiusPixels));
}
