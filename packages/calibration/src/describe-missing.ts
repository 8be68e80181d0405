import { CalibrationError } from "./calibration-error.js";
import type { Field } from "./field.js";
import type { GridPattern } from "./find-grid.js";
import type { Lattice } from "./grow-lattice.js";
import { extentOf } from "./match-lattice.js";

/** Fewer points of a lattice than this are found in any texture. */
const LEAST = 9;

/** The error that says what was seen in place of the grid that was asked for.
 *  @param seen  lattices, with the size of the picture they were seen in */
export function describeMissing(
  seen: readonly { readonly lattice: Lattice; readonly scale: number }[],
  { kind, along, across }: GridPattern,
  { rows, columns }: Field,
): CalibrationError {
  const sized = seen.map((one) => ({ ...one, extent: extentOf(one.lattice) }));
  const most = sized.reduce<(typeof sized)[number] | null>(
    (a, b) => (a && a.lattice.nodes.size >= b.lattice.nodes.size ? a : b),
    null,
  );
  const wanted = `${along} x ${across} ${kind}`;
  const option =
    kind === "corners" ? "--corners counts the inner corners of a checkerboard" : "--dots counts dots";
  if (!most || most.lattice.nodes.size < LEAST) {
    const count = most?.lattice.nodes.size ?? 0;
    return new CalibrationError(
      "grid-absent",
      `no grid is seen where ${wanted} were asked for: ${count === 0 ? "no" : `at most ${count}`} neighbouring ${kind} stand in a grid. Is it in the picture, in focus, lit, and larger than some 8 px a square?`,
    );
  }
  const { extent, lattice, scale } = most;
  const found = `${lattice.nodes.size} ${kind} in ${Math.max(extent.along, extent.across)} x ${Math.min(extent.along, extent.across)}`;
  const isSmaller =
    Math.max(extent.along, extent.across) <= Math.max(along, across) &&
    Math.min(extent.along, extent.across) <= Math.min(along, across);
  const edge = edgeReached(most, scale, rows, columns);
  if (isSmaller && edge)
    return new CalibrationError(
      "grid-cut-off",
      `the grid is cut off at the ${edge} of the picture: ${found} are seen where ${wanted} were asked for; move the whole grid into the picture`,
    );
  return new CalibrationError(
    "wrong-count",
    `${found} are seen where ${wanted} were asked for: ${option}; if the count is right, part of the grid is covered, glares or is too dark`,
  );
}

/** The edge of the picture beyond which the next row of the lattice would lie. */
function edgeReached(
  { lattice }: { readonly lattice: Lattice },
  scale: number,
  rows: number,
  columns: number,
): string | null {
  const places = [...lattice.nodes.values()].map(({ candidate }) => candidate);
  const steps = [...lattice.nodes.values()].flatMap(({ i, j, candidate }) => {
    const next = lattice.nodes.get(`${i + 1},${j}`) ?? lattice.nodes.get(`${i},${j + 1}`);
    return next ? [Math.hypot(next.candidate.x - candidate.x, next.candidate.y - candidate.y)] : [];
  });
  const step = 1.25 * Math.max(...steps);
  const [width, height] = [columns / scale, rows / scale];
  const margins: readonly (readonly [string, number])[] = [
    ["left edge", Math.min(...places.map(({ x }) => x))],
    ["right edge", width - 1 - Math.max(...places.map(({ x }) => x))],
    ["upper edge", Math.min(...places.map(({ y }) => y))],
    ["lower edge", height - 1 - Math.max(...places.map(({ y }) => y))],
  ];
  const nearest = margins.reduce((a, b) => (b[1] < a[1] ? b : a));
  return nearest[1] < step ? nearest[0] : null;
}
