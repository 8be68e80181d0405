import type { GridPattern } from "./find-grid.js";
import { keyOf, type LatticeNode } from "./grow-lattice.js";
import { isRegular } from "./is-regular.js";
import { MOST_BLUR } from "./most-blur.js";
import { type NoisyField, refinePoint } from "./refine-point.js";
import { atFullSize, type SeenLattice } from "./strong-lattices.js";
import { surroundingsOf } from "./surroundings.js";

/** Fewer points of a lattice than this are found in any texture. */
const LEAST = 9;
/** So many of the largest lattices are tried, and so many points of each: what it costs does not grow with the picture. */
const LATTICES = 4;
const POINTS = 9;
const MOST_AWAY = 3;

/** The largest lattice that is beyond doubt that of a printed grid of a kind: even, and nearly all of some of its points, spread
 *  over it, show that pattern, sharp; null: none. */
export function sureLattice(
  picture: NoisyField,
  kind: GridPattern["kind"],
  seen: readonly SeenLattice[],
): SeenLattice | null {
  const tried = seen
    .filter(({ lattice }) => lattice.nodes.size >= LEAST && isRegular(lattice))
    .sort((a, b) => b.lattice.nodes.size - a.lattice.nodes.size)
    .slice(0, LATTICES);
  return tried.find((one) => isOfKind(picture, kind, one)) ?? null;
}

function isOfKind(picture: NoisyField, kind: GridPattern["kind"], { lattice, scale }: SeenLattice): boolean {
  const { nodes } = lattice;
  const some = spread([...nodes.values()].filter(({ i, j }) => isJoined(nodes, i, j)));
  let away = 0;
  for (const { i, j } of some) {
    const at = (di: number, dj: number) => {
      const node = nodes.get(keyOf(i + di, j + dj));
      return node ? atFullSize([node.candidate.x, node.candidate.y], scale) : null;
    };
    const surroundings = surroundingsOf(at);
    const point = refinePoint(picture, kind, at(0, 0)!, surroundings);
    if (!point || point.blurPixels > MOST_BLUR[kind] * Math.min(...surroundings.distances)) away++;
    if (away > MOST_AWAY) return false;
  }
  return some.length > 2 * MOST_AWAY;
}

/** Whether a node has neighbours in both directions. */
function isJoined(nodes: ReadonlyMap<string, LatticeNode>, i: number, j: number): boolean {
  const has = (di: number, dj: number) => nodes.has(keyOf(i + di, j + dj));
  return (has(1, 0) || has(-1, 0)) && (has(0, 1) || has(0, -1));
}

function spread<T>(all: readonly T[]): T[] {
  const count = Math.min(POINTS, all.length);
  return Array.from({ length: count }, (_, k) => all[Math.floor(((k + 0.5) * all.length) / count)]);
}
