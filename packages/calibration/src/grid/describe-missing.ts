import { CalibrationError } from "../calibration-error.js";
import type { GridPattern } from "./find-grid.js";
import { isRegular } from "./is-regular.js";
import { edgeBeyond, extentOf, type LatticeExtent, matchLattice } from "./match-lattice.js";
import type { NoisyField } from "./refine-point.js";
import { type SeenLattice, sizesOf, strongLattices } from "./strong-lattices.js";
import { sureLattice } from "./sure-lattice.js";

/** Where no point of a lattice is sharp, fewer than this are found in any texture. */
const LEAST = 20;

const COUNTED = {
  corners: "--corners counts the inner corners of a checkerboard",
  dots: "--dots counts dots",
} as const;

/** The error that says what was seen in place of the grid that was asked for.
 *  @param seen  lattices of its kind, of every size of the picture */
export function describeMissing(
  picture: NoisyField,
  seen: readonly SeenLattice[],
  pattern: GridPattern,
): CalibrationError {
  const { kind, along, across } = pattern;
  const wanted = `${along} x ${across} ${kind}`;
  const sure = sureLattice(picture, kind, seen);
  // Of a grid that is there beyond doubt the other kind is not looked for.
  const unlike = sure ? null : gridOfOtherKind(picture, kind);
  if (unlike) return describeUnlike(unlike, pattern);
  if (!sure) return describeUnsure(largestOf(seen), pattern);
  const { lattice, scale } = sure;
  const match = matchLattice(lattice, along, across);
  const extent = extentOf(lattice);
  if (match || sizeOf(extent) === sizeOf({ along, across })) {
    const unseen = match
      ? match.places.filter((place) => place === null).length
      : along * across - lattice.nodes.size;
    return describeUnplaced(Math.max(0, unseen), pattern);
  }
  const found = `${lattice.nodes.size} ${kind} in ${sizeOf(extent)}`;
  const { columns, rows } = picture.field;
  const edge = edgeBeyond(lattice, { along, across }, { columns: columns / scale, rows: rows / scale });
  if (edge)
    return new CalibrationError(
      "grid-cut-off",
      `the grid seems cut off at the ${edge} of the picture: ${found} are seen where ${wanted} were asked for, and the next would lie outside; move the whole grid into the picture, or correct the count`,
    );
  const isWhole = lattice.nodes.size === extent.along * extent.across;
  const instead = isWhole ? `, give --${kind} ${argumentOf(extent)} if that is the standard` : "";
  return new CalibrationError(
    "wrong-count",
    `${found} are seen where ${wanted} were asked for: ${COUNTED[kind]}${instead}; if the count is right, part of the grid is covered, glares or is too dark`,
  );
}

/** The size of a grid of the other kind that the picture shows beyond doubt, nearly all of its points seen; null: none. */
function gridOfOtherKind(picture: NoisyField, kind: GridPattern["kind"]): LatticeExtent | null {
  const other = otherThan(kind);
  const seen = [...sizesOf(picture.field)].flatMap(({ size, scale }) => strongLattices(size, scale, other));
  const sure = sureLattice(picture, other, seen);
  const extent = sure && extentOf(sure.lattice);
  return extent && matchLattice(sure.lattice, extent.along, extent.across) ? extent : null;
}

function otherThan(kind: GridPattern["kind"]): GridPattern["kind"] {
  return kind === "corners" ? "dots" : "corners";
}

function describeUnlike(extent: LatticeExtent, { kind, along, across }: GridPattern): CalibrationError {
  const other = otherThan(kind);
  return new CalibrationError(
    "wrong-count",
    `a grid of ${sizeOf(extent)} ${other} is seen where ${along} x ${across} ${kind} were asked for: give --${other} ${argumentOf(extent)} if that is the standard`,
  );
}

/** Nothing is there beyond doubt.
 *  @param seen  what may be a grid; null: none */
function describeUnsure(seen: SeenLattice | null, { kind, along, across }: GridPattern): CalibrationError {
  const wanted = `where ${along} x ${across} ${kind} were asked for`;
  return seen
    ? new CalibrationError(
        "grid-blurred",
        `${seen.lattice.nodes.size} ${kind} in ${sizeOf(extentOf(seen.lattice))} seem to be there ${wanted}, but they cannot be placed: they are too blurred, too small or too noisy; focus the camera on the grid, give more light, or come nearer`,
      )
    : new CalibrationError(
        "grid-absent",
        `no grid is seen ${wanted}: no neighbouring ${kind} stand in even rows. Is it in the picture, in focus, lit, and larger than some 8 px a square?`,
      );
}

/** The grid is there, but not each of its points. */
function describeUnplaced(unseen: number, { kind, along, across }: GridPattern): CalibrationError {
  const grid = `a grid of ${along} x ${across} ${kind} is seen`;
  return unseen > 0
    ? new CalibrationError(
        "wrong-count",
        `${grid}, but ${unseen} of its ${along * across} points ${unseen === 1 ? "is" : "are"} not there: covered, glaring or too dark? All of them are needed`,
      )
    : new CalibrationError(
        "grid-blurred",
        `${grid}, but its points cannot be placed: it is too blurred, too small or too noisy; focus the camera on it, give more light, or come nearer`,
      );
}

/** The largest even lattice; null: none. */
function largestOf(seen: readonly SeenLattice[]): SeenLattice | null {
  return seen
    .filter(({ lattice }) => lattice.nodes.size >= LEAST && isRegular(lattice))
    .reduce<SeenLattice | null>((a, b) => (a && a.lattice.nodes.size >= b.lattice.nodes.size ? a : b), null);
}

function sizeOf({ along, across }: LatticeExtent): string {
  return `${Math.max(along, across)} x ${Math.min(along, across)}`;
}

/** As an option takes it. */
function argumentOf(extent: LatticeExtent): string {
  return sizeOf(extent).replaceAll(" ", "");
}
