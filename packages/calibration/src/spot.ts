import erf from "@stdlib/math-base-special-erf";
import type { Ellipse } from "./blurred-ellipse.js";
import type { Samples } from "./samples-around.js";

type Places = Pick<Samples, "x" | "y" | "radiusPixels">;

/** The ellipse of three parameters of order 1: logarithms of two of its figures, and the third. */
export function ellipseOf([logA, logB, skew]: readonly number[], radiusPixels: number): Ellipse {
  return [Math.exp(logA) / radiusPixels, Math.exp(logB) / radiusPixels, skew / radiusPixels];
}

/** An elliptical spot with a blurred rim, 1 inside and -1 outside: an error function of the distance to the rim.
 *  @param parameters  place x and y, px from the middle of the samples, those of `ellipseOf`, and the logarithm of the
 *    blur, px */
export function spot({ x, y, radiusPixels }: Places, parameters: readonly number[]): Float64Array {
  const [cx, cy, ...of] = parameters;
  const ellipse = ellipseOf(of, radiusPixels);
  const width = Math.SQRT2 * Math.exp(of[3]);
  const values = new Float64Array(x.length);
  for (let n = 0; n < values.length; n++)
    values[n] = erf(rimAt(ellipse, x[n] - cx, y[n] - cy).distance / width);
  return values;
}

/** Its derivatives after each parameter, shape (6, N). */
export function spotSlopes({ x, y, radiusPixels }: Places, parameters: readonly number[]): Float64Array[] {
  const [cx, cy, ...of] = parameters;
  const [a, b, c] = ellipseOf(of, radiusPixels);
  const width = Math.SQRT2 * Math.exp(of[3]);
  const slopes = Array.from({ length: 6 }, () => new Float64Array(x.length));
  for (let n = 0; n < x.length; n++) {
    const [dx, dy] = [x[n] - cx, y[n] - cy];
    const rim = rimAt([a, b, c], dx, dy);
    const { u, v, gx, distance } = rim;
    const steep = ((2 / Math.sqrt(Math.PI)) * Math.exp(-((distance / width) ** 2))) / width;
    slopes[0][n] = steep * change(rim, -a, 0, -a * a, -a * c);
    slopes[1][n] = steep * change(rim, -c, -b, -a * c, -c * c - b * b);
    slopes[2][n] = steep * change(rim, a * dx, 0, gx + a * a * dx, a * c * dx);
    slopes[3][n] = steep * change(rim, 0, b * dy, 0, b * (v + b * dy));
    slopes[4][n] = (steep / radiusPixels) * change(rim, dy, 0, a * dy, u + c * dy);
    slopes[5][n] = -steep * distance;
  }
  return slopes;
}

/** Where a place stands by an ellipse. */
interface Rim {
  /** The place in coordinates in which the ellipse is the unit circle, and its distance from the centre in them. */
  readonly u: number;
  readonly v: number;
  readonly q: number;
  /** q times the gradient of q. */
  readonly gx: number;
  readonly gy: number;
  readonly gradient: number;
  /** To the rim along the gradient of q, px, > 0 inside. */
  readonly distance: number;
}

function rimAt([a, b, c]: Ellipse, dx: number, dy: number): Rim {
  const [u, v] = [a * dx + c * dy, b * dy];
  const [gx, gy] = [a * u, c * u + b * v];
  const [q, gradient] = [Math.sqrt(u * u + v * v), Math.sqrt(gx * gx + gy * gy)];
  const distance = q > 1e-6 ? ((1 - q) * q) / gradient : 1 / a;
  return { u, v, q, gx, gy, gradient, distance };
}

/** Change of the distance with that of u, v, gx and gy. */
function change(
  { u, v, q, gx, gy, gradient }: Rim,
  du: number,
  dv: number,
  dgx: number,
  dgy: number,
): number {
  if (q <= 1e-6) return 0;
  const ofQ = (u * du + v * dv) / q;
  const ofGradient = (gx * dgx + gy * dgy) / gradient;
  return (ofQ * (1 - 2 * q) - ((1 - q) * q * ofGradient) / gradient) / gradient;
}
