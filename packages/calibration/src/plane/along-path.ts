import type { Point } from "../types.js";
import { type PlaneView, planePoint } from "./plane-scale.js";

/** Lengths in the plane along a straight path in the picture. */
export interface PathLengths {
  /** Of the whole path, m. */
  readonly lengthMetres: number;
  /** Distance along the path in the plane, m, at a distance from its first point in the picture, px; outside the
   *  path as if its first and last pixel went on. */
  metresAt(pixels: number): number;
  /** The other way round. */
  pixelsAt(metres: number): number;
  /** Metres per pixel along the path, mean, least and greatest. */
  readonly scale: { readonly mean: number; readonly least: number; readonly greatest: number };
}

/** Pieces as long as this are straight in the plane beyond measure: a lens bends a path of 1000 px by some px. */
const PIECE_PIXELS = 1;

/** Lengths along a path as the plane has them. Without a lens a straight path is straight in the plane; with one it
 *  is bent, and its length is measured along the bend.
 *  @param path  two points at least 1 px apart
 *  @throws CalibrationError `beyond-horizon` where the path reaches it or lies behind it, `beyond-lens` */
export function lengthsAlong(view: PlaneView, [from, to]: readonly [Point, Point]): PathLengths {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (!(length >= 1)) throw new RangeError(`path must be at least 1 px long, got ${from} to ${to}`);
  const pieces = Math.ceil(length / PIECE_PIXELS);
  const piece = length / pieces;
  const at = (s: number): Point => [
    from[0] + ((to[0] - from[0]) * s) / length,
    from[1] + ((to[1] - from[1]) * s) / length,
  ];
  const places = Array.from({ length: pieces + 1 }, (_, k) => planePoint(view, at(k * piece)));
  const metres = new Float64Array(pieces + 1);
  for (let k = 1; k <= pieces; k++)
    metres[k] = metres[k - 1] + Math.hypot(places[k][0] - places[k - 1][0], places[k][1] - places[k - 1][1]);
  const scales = Array.from({ length: pieces }, (_, k) => (metres[k + 1] - metres[k]) / piece);
  const within = (k: number) => Math.min(Math.max(k, 0), pieces - 1);
  return {
    lengthMetres: metres[pieces],
    metresAt(pixels) {
      const k = within(Math.floor(pixels / piece));
      const beyond = pixels - k * piece;
      if (pixels < 0 || pixels > length) return metres[k] + scales[k] * beyond;
      const [x, y] = planePoint(view, at(pixels));
      return metres[k] + Math.hypot(x - places[k][0], y - places[k][1]);
    },
    pixelsAt(wanted) {
      let [low, high] = [0, pieces];
      while (high - low > 1) {
        const middle = (low + high) >> 1;
        if (metres[middle] <= wanted) low = middle;
        else high = middle;
      }
      return low * piece + (wanted - metres[low]) / scales[low];
    },
    scale: {
      mean: metres[pieces] / length,
      least: Math.min(...scales),
      greatest: Math.max(...scales),
    },
  };
}
