import type { Lens, PlaneMap, Point } from "../types.js";
import { lengthsAlong } from "./along-path.js";
import { matrixOf } from "./matrix3.js";
import { propagated } from "./propagate.js";

/** What leaves the length of a path open, each relative to it, one standard uncertainty. */
export interface LengthUncertainty {
  /** Of pointing, as it would be were the plane known to be seen square on. */
  readonly pointing: number;
  /** What the unknown tilt of the plane adds. */
  readonly obliquity: number;
  /** Of k1 and k2; null without a lens. */
  readonly lens: number | null;
}

/** Standard uncertainty of a path's length, by linear propagation of what the map and the lens leave open. The share
 *  of pointing is that of a similarity through the same points; the rest of the map is the obliquity.
 *  @param similarity  relative standard uncertainty of the scale of a similarity through the points of the map
 *  @see JCGM 100:2008, 5.2.2 */
export function lengthUncertainty(
  map: PlaneMap,
  lens: Lens | null,
  path: readonly [Point, Point],
  similarity: number,
): LengthUncertainty {
  const entries = map.matrix.flat();
  const lengthOf = (moved: readonly number[], through: Lens | null) =>
    lengthsAlong({ matrix: matrixOf((i, j) => moved[3 * i + j]), ...(through && { lens: through }) }, path)
      .lengthMetres;
  const length = lengthOf(entries, lens);
  const whole = propagated((moved) => lengthOf(moved, lens), entries, map.covariance) / length;
  return {
    pointing: Math.min(whole, similarity),
    obliquity: Math.sqrt(Math.max(0, whole ** 2 - similarity ** 2)),
    lens: lens && lensPart(map, lens, lengthOf) / length,
  };
}

/** The map moves with the lens: the same points fix both. */
function lensPart(
  { matrix, lensSlopes }: PlaneMap,
  lens: Lens,
  lengthOf: (entries: readonly number[], lens: Lens) => number,
): number {
  const entries = matrix.flat();
  const { k1, k2 } = lens;
  return propagated(
    ([a, b]) => {
      const moved = entries.map((value, n) => {
        const slopes = lensSlopes?.[n] ?? [0, 0];
        return value + slopes[0] * (a - k1) + slopes[1] * (b - k2);
      });
      return lengthOf(moved, { ...lens, k1: a, k2: b });
    },
    [k1, k2],
    lens.covariance,
  );
}
