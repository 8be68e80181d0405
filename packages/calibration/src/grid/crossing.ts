import { type PixelEdge, pixelEdge } from "../pictures/pixel-edge.js";
import type { Samples } from "../pictures/samples-around.js";

type Places = Pick<Samples, "x" | "y">;

/** Two blurred edges that cross, as square pixels see them, -1..1: the product of what they see of either. That is exact for edges
 *  along the pixels and where only one of them crosses a pixel; of the few pixels that both cross it leaves out how they are tied.
 *  @param parameters  place x and y, px from the middle of the samples, the directions of the edges, radians, and the
 *    logarithm of the blur before the pixels, px */
export function crossing(places: Places, parameters: readonly number[]): Float64Array {
  const values = new Float64Array(places.x.length);
  forEach(places, parameters, (n, a, b) => {
    values[n] = a.value * b.value;
  });
  return values;
}

/** Its derivatives after each parameter, shape (5, N). */
export function crossingSlopes(places: Places, parameters: readonly number[]): Float64Array[] {
  const { x, y } = places;
  const [cx, cy, ...directions] = parameters;
  const [[sa, ca], [sb, cb]] = directions.slice(0, 2).map((angle) => [Math.sin(angle), Math.cos(angle)]);
  const slopes = Array.from({ length: 5 }, () => new Float64Array(x.length));
  forEach(places, parameters, (n, a, b) => {
    const alongA = a.ofDistance * b.value;
    const alongB = b.ofDistance * a.value;
    slopes[0][n] = -(alongA * sa + alongB * sb);
    slopes[1][n] = alongA * ca + alongB * cb;
    slopes[2][n] = alongA * ((x[n] - cx) * ca + (y[n] - cy) * sa) + a.ofDirection * b.value;
    slopes[3][n] = alongB * ((x[n] - cx) * cb + (y[n] - cy) * sb) + b.ofDirection * a.value;
    slopes[4][n] = a.ofLogBlur * b.value + b.ofLogBlur * a.value;
  });
  return slopes;
}

/** What every pixel sees of either edge. */
function forEach(
  { x, y }: Places,
  [cx, cy, directionA, directionB, logBlur]: readonly number[],
  use: (n: number, a: PixelEdge, b: PixelEdge) => void,
): void {
  const blur = Math.exp(logBlur);
  const [ofA, ofB] = [pixelEdge(directionA, blur), pixelEdge(directionB, blur)];
  const [sa, ca, sb, cb] = [
    Math.sin(directionA),
    Math.cos(directionA),
    Math.sin(directionB),
    Math.cos(directionB),
  ];
  for (let n = 0; n < x.length; n++) {
    const [u, v] = [x[n] - cx, y[n] - cy];
    use(n, ofA(u * sa - v * ca), ofB(u * sb - v * cb));
  }
}
