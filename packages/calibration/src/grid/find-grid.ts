import { CalibrationError } from "../calibration-error.js";
import { fieldOf } from "../pictures/field.js";
import { noiseOf } from "../pictures/noise-of.js";
import { roundingOf } from "../pictures/rounding-of.js";
import type { Picture, Point } from "../types.js";
import { describeMissing } from "./describe-missing.js";
import { matchLattice } from "./match-lattice.js";
import { refineGrid } from "./refine-grid.js";
import { type SeenLattice, sizesOf, strongLattices } from "./strong-lattices.js";

/** A printed grid. */
export interface GridPattern {
  /** Inner corners of a checkerboard, or dots. */
  readonly kind: "corners" | "dots";
  readonly along: number;
  readonly across: number;
  /** Side of a square, or distance of neighbouring dots, m. */
  readonly pitchMetres: number;
}

/** A grid found in a picture. */
export interface FoundGrid {
  /** px, shape (along · across,), rows one after the other. */
  readonly points: readonly Point[];
  /** The same points in the plane of the grid, m: the first is the origin. */
  readonly plane: readonly Point[];
  /** Median of what the fits give for a coordinate, px. */
  readonly standardUncertaintyPixels: number;
  /** Median blur of the edges, standard deviation of a Gaussian, px. */
  readonly blurPixels: number;
}

/** Finds a printed grid without being told where it is: candidates at several sizes of the picture, a grid grown from
 *  neighbour to neighbour, then a fit to the samples around every point at full size. The first axis of the grid
 *  runs to the right in the picture, or down where it is upright.
 *  @throws CalibrationError `grid-absent`, `grid-cut-off`, `grid-blurred`, `wrong-count`: what was seen;
 *    `invalid-value` for a grid of fewer than 3 by 2 points */
export function findGrid(picture: Picture, pattern: GridPattern): FoundGrid {
  const { along, across, pitchMetres } = pattern;
  if (
    !(
      Number.isInteger(along) &&
      Number.isInteger(across) &&
      Math.min(along, across) >= 2 &&
      along * across >= 6 &&
      pitchMetres > 0
    )
  )
    throw new CalibrationError(
      "invalid-value",
      `a grid needs at least 3 by 2 points and a pitch > 0, got ${along} by ${across} and ${pitchMetres} m`,
    );
  const samples = fieldOf(picture);
  const field = { ...samples, rounding: roundingOf(samples) };
  const noisy = { field, noise: noiseOf(field) };
  const plane = gridPlane(along, across, pitchMetres);
  const seen: SeenLattice[] = [];
  for (const { size, scale } of sizesOf(field)) {
    const lattices = strongLattices(size, scale, pattern.kind);
    seen.push(...lattices);
    const matches = lattices.flatMap(({ lattice, strength }) => {
      const match = matchLattice(lattice, along, across);
      return match ? [{ places: match.places, strength }] : [];
    });
    // The gaps between dots are spots, too, but weaker.
    matches.sort((one, other) => other.strength - one.strength);
    for (const { places } of matches) {
      const found = refineGrid(noisy, pattern, plane, places, scale);
      if (!found) continue;
      checkSingle(places, matches, pattern);
      return found;
    }
  }
  throw describeMissing(noisy, seen, pattern);
}

/** @throws CalibrationError `wrong-count` where another grid of the same count stands elsewhere in the picture */
function checkSingle(
  own: readonly (Point | null)[],
  matches: readonly { readonly places: readonly (Point | null)[] }[],
  { kind, along, across }: GridPattern,
): void {
  const isApart = (places: readonly (Point | null)[]) =>
    [0, 1].some((axis) => {
      const [a, b] = [own, places].map((all) => all.flatMap((place) => (place ? [place[axis]] : [])));
      return Math.max(...a) < Math.min(...b) || Math.max(...b) < Math.min(...a);
    });
  if (matches.some(({ places }) => isApart(places)))
    throw new CalibrationError(
      "wrong-count",
      `more than one grid of ${along} x ${across} ${kind} is seen: cover all but the one in the plane of the event`,
    );
}

function gridPlane(along: number, across: number, pitch: number): Point[] {
  return Array.from(
    { length: along * across },
    (_, n): Point => [(n % along) * pitch, Math.floor(n / along) * pitch],
  );
}
