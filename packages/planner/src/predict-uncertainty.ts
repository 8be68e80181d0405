/** What the uncertainty of a speed depends on before anything is filmed. */
export interface ExpectedReading {
  /** Frame intervals during which the front is on the path. */
  readonly framesAcross: number;
  readonly pixelsPerFrame: number;
  /** Way of the front during the exposure, px. */
  readonly motionBlurPixels: number;
  /** Standard deviation of the edge at rest, px. */
  readonly edgeBlurPixels: number;
  /** Step over the noise of a single pixel. */
  readonly stepToNoise: number;
  /** Rows averaged across the path. */
  readonly rowsAveraged: number;
}

/** Frames below which the wander of a front cannot be told from the noise of its readings: `measure` then takes three times the
 *  variance of independent errors. */
const FEWEST_FOR_WANDER = 20;
const VARIANCE_OF_FEW = 3;
/** Fewer bound the speed only. */
const FEWEST_FRAMES = 3;

/** Standard deviation of the front's position in one frame, px, at the Cramér-Rao bound of a Gaussian-blurred step in white
 *  noise, levels known: n/A · sqrt(2 sqrt(π) S / R), S² = s² + (v t)²/12 + 1/12 with the edge's blur s, the way v t
 *  during the exposure and the pixel's own width.
 *  @see A. Gatherer, Stanford CSL-TR-93-560 (1993), for the bound; a box of width w adds w²/12 to the variance of the edge */
export function positionUncertainty(reading: ExpectedReading): number {
  const { motionBlurPixels, edgeBlurPixels, stepToNoise, rowsAveraged } = reading;
  const width = Math.sqrt(edgeBlurPixels ** 2 + (motionBlurPixels ** 2 + 1) / 12);
  return Math.sqrt((2 * Math.sqrt(Math.PI) * width) / rowsAveraged) / stepToNoise;
}

/** Standard uncertainty of the speed over the speed, of image noise only: positions at the bound, on a straight line through N
 *  frames, u² · 12 / (N (N² − 1)); three times the variance below 20 frames.
 *  @returns null where the front is seen in fewer than three frames */
export function speedUncertainty(reading: ExpectedReading): number | null {
  const { framesAcross: n, pixelsPerFrame } = reading;
  if (n < FEWEST_FRAMES) return null;
  const variance = (positionUncertainty(reading) ** 2 * 12) / (n * (n ** 2 - 1));
  return Math.sqrt(variance * (n < FEWEST_FOR_WANDER ? VARIANCE_OF_FEW : 1)) / pixelsPerFrame;
}
