import { CalibrationError } from "./calibration-error.js";
import { cornerCandidates } from "./corner-candidates.js";
import { describeMissing } from "./describe-missing.js";
import { dotCandidates } from "./dot-candidates.js";
import { dotCentres } from "./dot-centres.js";
import { type Field, fieldOf, halved } from "./field.js";
import { fitHomography } from "./fit-homography.js";
import { type Candidate, growLattices, type Lattice } from "./grow-lattice.js";
import { matchLattice } from "./match-lattice.js";
import { mapPoint } from "./matrix3.js";
import { type RefinedPoint, refineCorner } from "./refine-corner.js";
import { type RefinedDot, refineDot } from "./refine-dot.js";
import type { Picture, Point } from "./types.js";

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

/** Smallest side of a picture in which a grid is sought, px. */
const SMALLEST = 40;
/** A blur beyond this share of the step between neighbours leaves nothing flat between two edges. */
const MOST_BLUR = 0.3;
/** Lattices of one set of candidates that are looked at. */
const LARGEST = 3;
/** A lattice of fewer nodes does not count as the strongest. */
const FEW = 6;
const WEAK = 0.6;

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
  const field = fieldOf(picture);
  const plane = Array.from(
    { length: along * across },
    (_, n): Point => [(n % along) * pitchMetres, Math.floor(n / along) * pitchMetres],
  );
  const seen: { readonly lattice: Lattice; readonly scale: number }[] = [];
  let size = field;
  for (let scale = 1; Math.min(size.rows, size.columns) >= SMALLEST; scale *= 2) {
    for (const lattice of strongLattices(candidatesOf(size, pattern.kind))) {
      seen.push({ lattice, scale });
      const matched = matchLattice(lattice, along, across);
      const found = matched && refined(field, pattern, plane, matched.places, scale);
      if (found) return found;
    }
    size = halved(size);
  }
  throw describeMissing(seen, pattern, field);
}

function candidatesOf(field: Field, kind: GridPattern["kind"]): Candidate[][] {
  return kind === "corners" ? [cornerCandidates(field)] : [dotCandidates(field, 1), dotCandidates(field, -1)];
}

/** The largest lattices of each set of candidates, without those much weaker than the strongest: the gaps between dark
 *  dots are a grid of bright spots, too. */
function strongLattices(sets: readonly (readonly Candidate[])[]): Lattice[] {
  const lattices = sets.flatMap((candidates) => growLattices(candidates).slice(0, LARGEST));
  const strengthOf = ({ nodes }: Lattice) =>
    median([...nodes.values()].map(({ candidate }) => candidate.strength));
  const counted = lattices.filter(({ nodes }) => nodes.size >= FEW).map(strengthOf);
  const strongest = Math.max(0, ...counted);
  return lattices.filter((lattice) => strengthOf(lattice) >= WEAK * strongest);
}

/** Every point fitted at full size; those that were not seen are looked for where the others say.
 *  @returns null where some are not there
 *  @throws CalibrationError `grid-blurred` */
function refined(
  field: Field,
  { kind, along, across }: GridPattern,
  plane: readonly Point[],
  places: readonly (Point | null)[],
  scale: number,
): FoundGrid | null {
  const known = places.flatMap((place, n) =>
    place ? [{ pixel: place.map((v) => scale * (v + 0.5) - 0.5) as unknown as Point, plane: plane[n] }] : [],
  );
  const { toPixels } = fitHomography(known, { pointingPixels: 1 });
  const starts = plane.map((point, n) => {
    const place = places[n];
    return place
      ? ([scale * (place[0] + 0.5) - 0.5, scale * (place[1] + 0.5) - 0.5] as Point)
      : mapPoint(toPixels, point);
  });
  const fits = starts.map((start, n) => {
    const steps = neighbours(starts, n, along, across);
    const shortest = Math.min(...steps.all);
    // As far as half way to the next corner: farther, and neighbours would share samples, and err together.
    const radius = Math.max(2.6, 0.5 * shortest);
    return kind === "corners"
      ? refineCorner(field, start, steps.directions, Math.min(radius, 20))
      : refineDot(field, start, Math.max(3, 0.55 * shortest));
  });
  const points = fits.filter((fit): fit is RefinedPoint => fit !== null);
  if (points.length < fits.length) return null;
  const step = Math.min(...starts.flatMap((_, n) => neighbours(starts, n, along, across).all));
  const blurPixels = median(points.map((point) => point.blurPixels));
  if (blurPixels > MOST_BLUR * step)
    throw new CalibrationError(
      "grid-blurred",
      `a grid of ${along} x ${across} ${kind} is there, but its edges are blurred over ${blurPixels.toFixed(1)} px (standard deviation) where its points stand ${step.toFixed(1)} px apart: focus the camera on it`,
    );
  const centres =
    kind === "dots" ? dotCentres(points as RefinedDot[], plane) : points.map(({ place }) => place);
  return {
    points: centres,
    plane,
    standardUncertaintyPixels: median(points.map((point) => point.standardUncertaintyPixels)),
    blurPixels,
  };
}

/** Steps to the neighbours of a point, and the directions of the two lines through it. */
function neighbours(points: readonly Point[], n: number, along: number, across: number) {
  const [i, j] = [n % along, Math.floor(n / along)];
  const step = (di: number, dj: number): Point | null => {
    if (i + di < 0 || i + di >= along || j + dj < 0 || j + dj >= across) return null;
    const other = points[n + di + dj * along];
    return [other[0] - points[n][0], other[1] - points[n][1]];
  };
  const direction = (forward: Point | null, back: Point | null) => {
    const [x, y] = [(forward?.[0] ?? 0) - (back?.[0] ?? 0), (forward?.[1] ?? 0) - (back?.[1] ?? 0)];
    return Math.atan2(y, x);
  };
  const [right, left, down, up] = [step(1, 0), step(-1, 0), step(0, 1), step(0, -1)];
  return {
    all: [right, left, down, up].flatMap((s) => (s ? [Math.hypot(...s)] : [])),
    directions: [direction(right, left), direction(down, up)] as const,
  };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}
