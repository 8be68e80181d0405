import type { Point } from "../types.js";
import { keyOf, type Lattice } from "./grow-lattice.js";

/** A grid of the wanted size; places in the picture by index, rows of the grid one after the other, null where no
 *  candidate was seen. */
export interface MatchedGrid {
  readonly places: readonly (Point | null)[];
}

/** The part of a lattice of which at least this share of a row is seen counts as a row. */
const LEAST_SHARE = 0.5;
/** A grid is found where this share of its points is seen. */
const LEAST_SEEN = 0.8;

/** Size of a lattice, rows and columns of few points left out. */
export interface LatticeExtent {
  readonly along: number;
  readonly across: number;
}

interface Bounds {
  i0: number;
  i1: number;
  j0: number;
  j1: number;
}

/** Takes stray rows off the edges.
 *  @returns null where nothing is left */
function trimmed({ nodes }: Lattice): Bounds | null {
  const all = [...nodes.values()];
  const bounds = {
    i0: Math.min(...all.map(({ i }) => i)),
    i1: Math.max(...all.map(({ i }) => i)),
    j0: Math.min(...all.map(({ j }) => j)),
    j1: Math.max(...all.map(({ j }) => j)),
  };
  const count = (i0: number, i1: number, j0: number, j1: number) =>
    all.filter(({ i, j }) => i >= i0 && i <= i1 && j >= j0 && j <= j1).length;
  for (let changed = true; changed; ) {
    changed = false;
    const { i0, i1, j0, j1 } = bounds;
    if (i1 < i0 || j1 < j0) return null;
    const [height, width] = [j1 - j0 + 1, i1 - i0 + 1];
    const sides = [
      { share: count(i0, i0, j0, j1) / height, shrink: () => bounds.i0++ },
      { share: count(i1, i1, j0, j1) / height, shrink: () => bounds.i1-- },
      { share: count(i0, i1, j0, j0) / width, shrink: () => bounds.j0++ },
      { share: count(i0, i1, j1, j1) / width, shrink: () => bounds.j1-- },
    ];
    const worst = sides.reduce((a, b) => (b.share < a.share ? b : a));
    if (worst.share < LEAST_SHARE) {
      worst.shrink();
      changed = true;
    }
  }
  return bounds;
}

export function extentOf(lattice: Lattice): LatticeExtent {
  const bounds = trimmed(lattice);
  return bounds
    ? { along: bounds.i1 - bounds.i0 + 1, across: bounds.j1 - bounds.j0 + 1 }
    : { along: 0, across: 0 };
}

/** A lattice as a grid of `along` by `across` points, turned so that its first axis runs to the right in the picture, or
 *  where it runs up or down, down. It is never mirrored.
 *  @returns null where its size is another, or too few points are seen */
export function matchLattice(lattice: Lattice, along: number, across: number): MatchedGrid | null {
  const bounds = trimmed(lattice);
  if (!bounds) return null;
  const { i0, i1, j0, j1 } = bounds;
  const [width, height] = [i1 - i0 + 1, j1 - j0 + 1];
  const isTurned = width !== along || height !== across;
  if (isTurned && (width !== across || height !== along)) return null;
  const at = (i: number, j: number): Point | null => {
    const node = lattice.nodes.get(keyOf(i, j));
    return node ? [node.candidate.x, node.candidate.y] : null;
  };
  // A quarter turn keeps the handedness: (a, b) stands at i = b, j = last − a.
  const place = (a: number, b: number) => (isTurned ? at(i0 + b, j1 - a) : at(i0 + a, j0 + b));
  const grid = Array.from({ length: along * across }, (_, n) => place(n % along, Math.floor(n / along)));
  const seen = grid.filter((point) => point !== null).length;
  if (seen < LEAST_SEEN * grid.length) return null;
  return { places: runsBack(grid, along) ? grid.reverse() : grid };
}

/** Whether the first axis runs to the left, or where it is upright, up. */
function runsBack(grid: readonly (Point | null)[], along: number): boolean {
  let [dx, dy] = [0, 0];
  grid.forEach((point, n) => {
    const next = n % along < along - 1 ? grid[n + 1] : null;
    if (point && next) {
      dx += next[0] - point[0];
      dy += next[1] - point[1];
    }
  });
  return Math.abs(dx) >= 0.4 * Math.abs(dy) ? dx < 0 : dy < 0;
}

/** The edge of the picture beyond which the next row of a lattice would lie, in a direction in which it is smaller than the
 *  grid that was asked for; null: none, or it is not smaller.
 *  @param picture  its size, px */
export function edgeBeyond(
  lattice: Lattice,
  wanted: LatticeExtent,
  picture: { readonly columns: number; readonly rows: number },
): string | null {
  const bounds = trimmed(lattice);
  if (!bounds) return null;
  const { i0, i1, j0, j1 } = bounds;
  const [width, height] = [i1 - i0 + 1, j1 - j0 + 1];
  const fits = [
    [wanted.along, wanted.across],
    [wanted.across, wanted.along],
  ].filter(([a, b]) => width <= a && height <= b);
  const sides = [
    ...(fits.some(([a]) => width < a) ? [ends(i0, 1, "i"), ends(i1, -1, "i")] : []),
    ...(fits.some(([, b]) => height < b) ? [ends(j0, 1, "j"), ends(j1, -1, "j")] : []),
  ];
  for (const isOn of sides) {
    const next = [...lattice.nodes.values()].filter(isOn.last).flatMap(({ i, j, candidate: { x, y } }) => {
      const inner = lattice.nodes.get(isOn.inner(i, j))?.candidate;
      return inner ? [[2 * x - inner.x, 2 * y - inner.y] as const] : [];
    });
    const edges = next.map(([x, y]) => edgeOf(x, y, picture));
    const beyond = edges.filter((edge) => edge !== null);
    if (beyond.length > 0 && 2 * beyond.length >= next.length) return beyond[beyond.length >> 1];
  }
  return null;
}

/** The last row on one side of a lattice, and what lies one row further in. */
function ends(at: number, inwards: 1 | -1, axis: "i" | "j") {
  return {
    last: ({ i, j }: { i: number; j: number }) => (axis === "i" ? i : j) === at,
    inner: (i: number, j: number) => (axis === "i" ? keyOf(i + inwards, j) : keyOf(i, j + inwards)),
  };
}

function edgeOf(x: number, y: number, { columns, rows }: { columns: number; rows: number }): string | null {
  if (x < 0) return "left edge";
  if (x > columns - 1) return "right edge";
  if (y < 0) return "upper edge";
  return y > rows - 1 ? "lower edge" : null;
}
