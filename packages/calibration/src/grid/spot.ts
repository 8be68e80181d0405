import { type PixelEdge, pixelEdge, WIDTHS } from "../pictures/pixel-edge.js";
import type { Samples } from "../pictures/samples-around.js";
import type { Ellipse } from "./blurred-ellipse.js";

type Places = Pick<Samples, "x" | "y" | "radiusPixels">;

/** The ellipse of three parameters of order 1: logarithms of two of its figures, and the third. */
export function ellipseOf([logA, logB, skew]: readonly number[], radiusPixels: number): Ellipse {
  return [Math.exp(logA) / radiusPixels, Math.exp(logB) / radiusPixels, skew / radiusPixels];
}

/** An elliptical spot with a blurred rim as square pixels see it, 1 inside and -1 outside: at every sample that of a straight edge along
 *  the rim nearest to it. The curve of the rim within a pixel moves all sides alike, and not the place.
 *  @param parameters  place x and y, px from the middle of the samples, those of `ellipseOf`, and the logarithm of the
 *    blur before the pixels, px */
export function spot(places: Places, parameters: readonly number[]): Float64Array {
  const values = new Float64Array(places.x.length);
  forEach(places, parameters, (n, { value }) => {
    values[n] = value;
  });
  return values;
}

/** Its derivatives after each parameter, shape (6, N). */
export function spotSlopes(places: Places, parameters: readonly number[]): Float64Array[] {
  const { x, y, radiusPixels } = places;
  const [cx, cy, ...of] = parameters;
  const [a, b, c] = ellipseOf(of, radiusPixels);
  const slopes = Array.from({ length: 6 }, () => new Float64Array(x.length));
  forEach(places, parameters, (n, seen, rim) => {
    const [dx, dy] = [x[n] - cx, y[n] - cy];
    const { u, v, gx } = rim;
    slopes[0][n] = change(seen, rim, -a, 0, -a * a, -a * c);
    slopes[1][n] = change(seen, rim, -c, -b, -a * c, -c * c - b * b);
    slopes[2][n] = change(seen, rim, a * dx, 0, gx + a * a * dx, a * c * dx);
    slopes[3][n] = change(seen, rim, 0, b * dy, 0, b * (v + b * dy));
    slopes[4][n] = change(seen, rim, dy, 0, a * dy, u + c * dy) / radiusPixels;
    slopes[5][n] = seen.ofLogBlur;
  });
  return slopes;
}

const INSIDE: PixelEdge = { value: 1, ofDistance: 0, ofDirection: 0, ofLogBlur: 0 };
const OUTSIDE: PixelEdge = { ...INSIDE, value: -1 };

/** What every pixel sees of the rim, and where it stands by it. */
function forEach(
  { x, y, radiusPixels }: Places,
  [cx, cy, ...of]: readonly number[],
  use: (n: number, seen: PixelEdge, rim: Rim) => void,
): void {
  const ellipse = ellipseOf(of, radiusPixels);
  const blur = Math.exp(of[3]);
  const reach = Math.SQRT1_2 + WIDTHS * Math.SQRT2 * blur;
  for (let n = 0; n < x.length; n++) {
    const rim = rimAt(ellipse, x[n] - cx, y[n] - cy);
    const { gx, gy, distance } = rim;
    // Most pixels lie off the rim whatever its direction, and are spared working it out.
    if (distance > reach) use(n, INSIDE, rim);
    else if (distance < -reach) use(n, OUTSIDE, rim);
    else use(n, pixelEdge(Math.atan2(gx, -gy), blur)(distance), rim);
  }
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

/** Change of what a pixel sees with that of u, v, gx and gy, by its distance from the rim and the rim's direction. */
function change(
  { ofDistance, ofDirection }: PixelEdge,
  { u, v, q, gx, gy, gradient }: Rim,
  du: number,
  dv: number,
  dgx: number,
  dgy: number,
): number {
  if (q <= 1e-6) return 0;
  const ofQ = (u * du + v * dv) / q;
  const ofGradient = (gx * dgx + gy * dgy) / gradient;
  const distance = (ofQ * (1 - 2 * q) - ((1 - q) * q * ofGradient) / gradient) / gradient;
  return ofDistance * distance + (ofDirection * (gx * dgy - gy * dgx)) / gradient ** 2;
}
