import type { Point } from "../types.js";

/** A place that may be a point of a grid. */
export interface Candidate {
  readonly x: number;
  readonly y: number;
  readonly strength: number;
  /** Of a corner: directions, radians, along which dark turns to bright and bright to dark; of a dot: null. */
  readonly rising: number | null;
  readonly falling: number | null;
}

/** Candidates by place in a grid; the first index counts along `along`, the second to its right in the picture. */
export interface Lattice {
  readonly nodes: ReadonlyMap<string, LatticeNode>;
}

export interface LatticeNode {
  readonly i: number;
  readonly j: number;
  readonly candidate: Candidate;
}

/** How far from where it is expected a neighbour may be, as a share of the step to it. */
const TOLERANCE = 0.3;
/** How much the lines through a corner may turn from one to the next, radians. */
const TURN = 0.45;
const SEEDS = 40;

export const keyOf = (i: number, j: number) => `${i},${j}`;

/** Grows grids from strong candidates: a neighbour is where the last step, carried on, leads to, and of corners one
 *  whose bright and dark quarters are exchanged. Steps follow the picture, so that perspective and a lens may bend it.
 *  @returns the grids found, most nodes first */
export function growLattices(candidates: readonly Candidate[]): Lattice[] {
  const used = new Set<Candidate>();
  const binned = binOf(candidates);
  const lattices: Lattice[] = [];
  for (const seed of candidates.slice(0, 4 * SEEDS)) {
    if (lattices.length >= SEEDS) break;
    if (used.has(seed)) continue;
    const best = basesOf(seed, candidates)
      .map((basis) => grow(seed, basis, binned))
      .reduce<Lattice | null>((a, b) => (a && a.nodes.size >= b.nodes.size ? a : b), null);
    if (!best || best.nodes.size < 4) continue;
    for (const { candidate } of best.nodes.values()) used.add(candidate);
    lattices.push(best);
  }
  return lattices.sort((a, b) => b.nodes.size - a.nodes.size);
}

interface Basis {
  readonly u: Point;
  readonly v: Point;
}

/** Neighbours of a dot among which its steps are sought. */
const NEAR = 8;

/** Pairs of steps from a seed to its neighbours, the second to the right of the first as seen in the picture. */
function basesOf(seed: Candidate, candidates: readonly Candidate[]): Basis[] {
  const stepTo = (other: Candidate): Point => [other.x - seed.x, other.y - seed.y];
  const { rising, falling } = seed;
  if (rising === null || falling === null)
    return dotBases(nearestOf(candidates, seed, NEAR, () => true).map(stepTo));
  const towards = (angle: number) =>
    nearestOf(
      candidates,
      seed,
      1,
      (other) =>
        lineTurn(Math.atan2(other.y - seed.y, other.x - seed.x), angle) < 0.35 && isExchanged(seed, other),
    );
  const [[a], [b]] = [towards(rising), towards(falling)];
  return a && b ? [rightHanded(stepTo(a), stepTo(b))] : [];
}

/** The nearest others that meet a condition, nearest first; of equally near ones the first. */
function nearestOf(
  candidates: readonly Candidate[],
  seed: Candidate,
  count: number,
  meets: (other: Candidate) => boolean,
): Candidate[] {
  const nearest: { readonly other: Candidate; readonly distance: number }[] = [];
  for (const other of candidates) {
    const distance = Math.hypot(other.x - seed.x, other.y - seed.y);
    const isFull = nearest.length === count;
    if (other === seed || (isFull && distance >= nearest[count - 1].distance) || !meets(other)) continue;
    if (isFull) nearest.pop();
    const at = nearest.findIndex((one) => one.distance > distance);
    nearest.splice(at < 0 ? nearest.length : at, 0, { other, distance });
  }
  return nearest.map(({ other }) => other);
}

function dotBases(steps: readonly Point[]): Basis[] {
  return steps.slice(0, 3).flatMap((u, k) => {
    const v = steps.find((step, n) => n > k && Math.abs(sineOf(u, step)) > 0.5);
    return v ? [rightHanded(u, v)] : [];
  });
}

function rightHanded(u: Point, v: Point): Basis {
  return sineOf(u, v) > 0 ? { u, v } : { u, v: [-v[0], -v[1]] };
}

function sineOf(u: Point, v: Point): number {
  return (u[0] * v[1] - u[1] * v[0]) / (Math.hypot(...u) * Math.hypot(...v));
}

function grow(seed: Candidate, basis: Basis, candidates: Binned): Lattice {
  interface Placed extends LatticeNode, Basis {}
  const nodes = new Map<string, Placed>();
  const taken = new Set<Candidate>([seed]);
  const queue: Placed[] = [{ i: 0, j: 0, candidate: seed, ...basis }];
  nodes.set(keyOf(0, 0), queue[0]);
  for (let at = 0; at < queue.length; at++) {
    const node = queue[at];
    for (const [di, dj] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ]) {
      const [i, j] = [node.i + di, node.j + dj];
      if (nodes.has(keyOf(i, j))) continue;
      const step = di !== 0 ? node.u : node.v;
      const sign = di + dj;
      // Where the row is known on its other side, too, its change of step is carried on.
      const behind = nodes.get(keyOf(node.i - di, node.j - dj));
      const ahead: Point = behind
        ? [node.candidate.x - behind.candidate.x, node.candidate.y - behind.candidate.y]
        : [sign * step[0], sign * step[1]];
      const found = nearest(node, ahead, candidates, taken);
      if (!found) continue;
      const moved: Point = [sign * (found.x - node.candidate.x), sign * (found.y - node.candidate.y)];
      const placed = { i, j, candidate: found, u: di !== 0 ? moved : node.u, v: dj !== 0 ? moved : node.v };
      nodes.set(keyOf(i, j), placed);
      taken.add(found);
      queue.push(placed);
    }
  }
  return { nodes };
}

function nearest(
  { candidate }: LatticeNode,
  ahead: Point,
  candidates: Binned,
  taken: ReadonlySet<Candidate>,
): Candidate | null {
  const [x, y] = [candidate.x + ahead[0], candidate.y + ahead[1]];
  let best = null as Candidate | null;
  let least = TOLERANCE * Math.hypot(...ahead);
  const [left, right] = [Math.floor((x - least) / BIN), Math.floor((x + least) / BIN)];
  const [top, bottom] = [Math.floor((y - least) / BIN), Math.floor((y + least) / BIN)];
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++)
      for (const other of candidates.get(keyOf(column, row)) ?? []) {
        const distance = Math.hypot(other.x - x, other.y - y);
        const isNearer = distance < least || (distance === least && best && other.strength > best.strength);
        if (isNearer && !taken.has(other) && isExchanged(candidate, other)) {
          best = other;
          least = distance;
        }
      }
  return best;
}

/** Candidates by the square of the picture in which they stand. */
type Binned = ReadonlyMap<string, readonly Candidate[]>;

/** Side of those squares, px. */
const BIN = 16;

function binOf(candidates: readonly Candidate[]): Binned {
  const bins = new Map<string, Candidate[]>();
  for (const candidate of candidates) {
    const key = keyOf(Math.floor(candidate.x / BIN), Math.floor(candidate.y / BIN));
    const bin = bins.get(key);
    if (bin) bin.push(candidate);
    else bins.set(key, [candidate]);
  }
  return bins;
}

/** Whether a neighbour's bright and dark quarters are exchanged; always true of dots. */
function isExchanged(one: Candidate, other: Candidate): boolean {
  if (one.rising === null || one.falling === null || other.rising === null || other.falling === null)
    return true;
  return lineTurn(one.rising, other.falling) < TURN && lineTurn(one.falling, other.rising) < TURN;
}

/** Angle between two lines, 0..π/2. */
function lineTurn(a: number, b: number): number {
  const turn = Math.abs(a - b) % Math.PI;
  return Math.min(turn, Math.PI - turn);
}
