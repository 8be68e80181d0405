import type { ProfileShape } from "../model/edge-profile.js";
import type { FrontMotion } from "../model/joint-fit.js";

/** px, of the edge, to start from */
const BLUR = 2;
/** Of the exposure, to start from where it is not known. */
const EXPOSURE = 0.5;

/** A sharp front on a line, to start a fit from. */
export function sharpStart(
  shape: ProfileShape,
  { interceptPixels, slopePixelsPerFrame }: Pick<FrontMotion, "interceptPixels" | "slopePixelsPerFrame">,
  exposureFraction: number | undefined,
): FrontMotion {
  return {
    shape,
    sense: slopePixelsPerFrame > 0 ? 1 : -1,
    interceptPixels,
    slopePixelsPerFrame,
    blurPixels: BLUR,
    exposureFraction: exposureFraction ?? EXPOSURE,
    tiltSpreadPixels: 0,
  };
}
