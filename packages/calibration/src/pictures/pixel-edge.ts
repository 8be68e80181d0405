import erf from "@stdlib/math-base-special-erf";

/** What square pixels see of a straight edge, blurred by a Gaussian, and what that changes by. */
export interface PixelEdge {
  /** -1..1 */
  readonly value: number;
  /** With the distance of the pixel from the edge, 1/px. */
  readonly ofDistance: number;
  /** With the direction of the edge, the distance kept, 1/rad. */
  readonly ofDirection: number;
  /** With the logarithm of the blur. */
  readonly ofLogBlur: number;
}

/** Beyond the pixel's own reach an error function of so many widths is 1 to 1e-9. */
export const WIDTHS = 4.35;
/** An edge nearer to the pixels' rows or columns is taken to lie so: the pixel is as wide across it to 1e-7. */
const ALONG = 1e-3;

/** The mean over a square pixel of erf(distance / (√2 blur)): the Gaussian's error function folded with the two sides of the
 *  pixel as the edge sees them, |sin| and |cos| of its direction. In closed form from the second integral of the error function. Where
 *  edges run along the pixels, all pixels along one see the same part of it, and a Gaussian of the same width instead would misplace it.
 *  @param directionRadians  of the edge
 *  @returns a function of the distance of the pixel's middle from the edge, px */
export function pixelEdge(directionRadians: number, blurPixels: number): (distance: number) => PixelEdge {
  const [sine, cosine] = [Math.sin(directionRadians), Math.cos(directionRadians)];
  const a = Math.max(ALONG, Math.abs(sine));
  const b = Math.max(ALONG, Math.abs(cosine));
  const ofA = Math.abs(sine) > ALONG ? Math.sign(sine) * cosine : 0;
  const ofB = Math.abs(cosine) > ALONG ? -Math.sign(cosine) * sine : 0;
  const width = Math.SQRT2 * blurPixels;
  const reach = (a + b) / 2 + WIDTHS * width;
  return (distance) => {
    if (Math.abs(distance) > reach)
      return { value: Math.sign(distance), ofDistance: 0, ofDirection: 0, ofLogBlur: 0 };
    const farAhead = integrals(distance + (a + b) / 2, width);
    const ahead = integrals(distance + (a - b) / 2, width);
    const behind = integrals(distance - (a - b) / 2, width);
    const farBehind = integrals(distance - (a + b) / 2, width);
    const over = (order: 0 | 1 | 2) =>
      (farAhead[order] - ahead[order] - behind[order] + farBehind[order]) / (a * b);
    const value = over(2);
    const outer = farAhead[1] - farBehind[1];
    const inner = ahead[1] - behind[1];
    return {
      value,
      ofDistance: over(1),
      ofDirection:
        ofA * ((outer - inner) / (2 * a * b) - value / a) + ofB * ((outer + inner) / (2 * a * b) - value / b),
      // The heat equation: half the second derivative is the change with the square of the blur.
      ofLogBlur: (width ** 2 / 2) * over(0),
    };
  };
}

/** erf(z / width), and its first and second integral. */
function integrals(z: number, width: number): readonly [number, number, number] {
  const at = z / width;
  const value = erf(at);
  const density = (width / Math.sqrt(Math.PI)) * Math.exp(-at * at);
  return [value, z * value + density, (z * z * value + (width * width * value) / 2 + z * density) / 2];
}
