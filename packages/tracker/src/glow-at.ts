import { edgeWidth, type ProfileSample, sampleProfile } from "./edge-profile.js";
import { type NormalSample, sampleNormal } from "./normal-distribution.js";

/** A front's edge, as blurred and smeared as it is. */
export interface EdgeLook {
  readonly blurPixels: number;
  readonly smearPixels: number;
}

const edge: ProfileSample = { value: 0, byDistance: 0, byLogBlur: 0 };
const normal: NormalSample = { density: 0, distribution: 0 };

/** A glow that is 1 at a front and falls by e in a length ahead of it, behind it none.
 *  @param behind  how far the front has passed the place, px; negative ahead
 *  @param lengthPixels  > 0
 *  @param isCovered  whether the front covers the glow by its own blurred edge, or the glow ends at the front and is blurred
 *    with it */
export function glowAt(
  behind: number,
  lengthPixels: number,
  isCovered: boolean,
  { blurPixels, smearPixels }: EdgeLook,
): number {
  if (isCovered) {
    sampleProfile("step", behind, blurPixels, smearPixels, edge);
    return (1 - edge.value) * Math.exp(Math.min(0, behind) / lengthPixels);
  }
  const width = edgeWidth(blurPixels, smearPixels);
  sampleNormal(-behind / width - width / lengthPixels, normal);
  const tail = normal.distribution;
  return tail > 0 ? tail * Math.exp(behind / lengthPixels + 0.5 * (width / lengthPixels) ** 2) : 0;
}

/** How far a front covers a place, 0..1, in the way in which it meets the glow. */
export function coveredByFront(
  behind: number,
  isCovered: boolean,
  { blurPixels, smearPixels }: EdgeLook,
): number {
  if (isCovered) {
    sampleProfile("step", behind, blurPixels, smearPixels, edge);
    return edge.value;
  }
  sampleNormal(behind / edgeWidth(blurPixels, smearPixels), normal);
  return normal.distribution;
}
