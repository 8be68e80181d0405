import { median } from "../numbers/median.js";
import { type Field, halved } from "../pictures/field.js";
import type { Point } from "../types.js";
import { cornerCandidates } from "./corner-candidates.js";
import { dotCandidates } from "./dot-candidates.js";
import type { GridPattern } from "./find-grid.js";
import { type Candidate, growLattices, type Lattice } from "./grow-lattice.js";

/** A lattice in a picture of which so many pixels make one of the lattice's. */
export interface SeenLattice {
  readonly lattice: Lattice;
  readonly scale: number;
  /** Of its candidates, to be held against those of the same size of the picture only. */
  readonly strength: number;
}

/** Smallest side of a picture in which a grid is sought, px. */
const SMALLEST = 40;

/** Lattices of one set of candidates that are looked at. */
const LARGEST = 3;

/** A lattice of fewer nodes does not count as the strongest. */
const FEW = 6;

const WEAK = 0.6;

/** The picture at every size in which a grid is sought. */
export function* sizesOf(field: Field): Generator<{ readonly size: Field; readonly scale: number }> {
  let size = field;
  for (let scale = 1; Math.min(size.rows, size.columns) >= SMALLEST; scale *= 2) {
    yield { size, scale };
    size = halved(size);
  }
}

/** A place in a smaller picture where it is at full size, px. */
export function atFullSize([x, y]: Point, scale: number): Point {
  return [scale * (x + 0.5) - 0.5, scale * (y + 0.5) - 0.5];
}

function candidatesOf(field: Field, kind: GridPattern["kind"]): Candidate[][] {
  return kind === "corners" ? [cornerCandidates(field)] : dotCandidates(field);
}

/** The largest lattices of each set of candidates of a kind, without those much weaker than the strongest: the gaps between dark
 *  dots are a grid of bright spots, too. */
export function strongLattices(size: Field, scale: number, kind: GridPattern["kind"]): SeenLattice[] {
  const lattices = candidatesOf(size, kind).flatMap((candidates) =>
    growLattices(candidates)
      .slice(0, LARGEST)
      .map((lattice) => ({ lattice, scale, strength: strengthOf(lattice) })),
  );
  const counted = lattices.filter(({ lattice }) => lattice.nodes.size >= FEW);
  const strongest = Math.max(0, ...counted.map(({ strength }) => strength));
  return lattices.filter(({ strength }) => strength >= WEAK * strongest);
}

function strengthOf({ nodes }: Lattice): number {
  return median([...nodes.values()].map(({ candidate }) => candidate.strength));
}
