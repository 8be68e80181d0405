import { ring } from "./thin.js";
import type { Point } from "./types.js";

/** Lines one pixel wide as a graph: nodes are ends, and places where three or more lines meet. */
export interface SkeletonGraph {
  readonly nodes: readonly SkeletonNode[];
  readonly edges: readonly SkeletonEdge[];
}

export interface SkeletonNode {
  readonly at: Point;
  /** Lines that end here. */
  readonly degree: number;
}

export interface SkeletonEdge {
  readonly from: number;
  readonly to: number;
  /** Places in the picture between the nodes, in order. */
  readonly pixels: readonly number[];
}

/** @param skeleton  1 where a line is, thinned; row-major; nothing on its border */
export function traceSkeleton(skeleton: Uint8Array, columns: number): SkeletonGraph {
  const neighbours = neighboursIn(skeleton, columns);
  const nodeOf = new Map<number, number>();
  const clusters: number[][] = [];
  skeleton.forEach((value, at) => {
    if (value === 0 || nodeOf.has(at) || neighbours(at).length === 2) return;
    const cluster = [at];
    nodeOf.set(at, clusters.length);
    for (const member of cluster)
      for (const next of neighbours(member))
        if (!nodeOf.has(next) && neighbours(next).length > 2 && neighbours(member).length > 2) {
          nodeOf.set(next, clusters.length);
          cluster.push(next);
        }
    clusters.push(cluster);
  });
  const edges: SkeletonEdge[] = [];
  const walked = new Set<number>();
  for (const [from, cluster] of clusters.entries())
    for (const member of cluster)
      for (const start of neighbours(member)) {
        if (walked.has(start)) continue;
        const direct = nodeOf.get(start);
        if (direct !== undefined) {
          if (direct > from) edges.push({ from, to: direct, pixels: [] });
          continue;
        }
        const { pixels, end } = walk(member, start);
        for (const at of pixels) walked.add(at);
        const to = nodeOf.get(end);
        if (to !== undefined) edges.push({ from, to, pixels });
      }
  const degrees = clusters.map(
    (_, k) => edges.filter(({ from }) => from === k).length + edges.filter(({ to }) => to === k).length,
  );
  return { nodes: clusters.map((cluster, k) => ({ at: middleOf(cluster), degree: degrees[k] })), edges };

  function walk(from: number, start: number): { pixels: number[]; end: number } {
    const pixels: number[] = [];
    let [previous, at] = [from, start];
    while (!nodeOf.has(at)) {
      pixels.push(at);
      const next = neighbours(at).find((one) => one !== previous);
      if (next === undefined || pixels.length > skeleton.length) break;
      [previous, at] = [at, next];
    }
    return { pixels, end: at };
  }

  function middleOf(cluster: readonly number[]): Point {
    const sum = (of: (at: number) => number) => cluster.reduce((total, at) => total + of(at), 0);
    return [
      sum((at) => at % columns) / cluster.length,
      sum((at) => Math.floor(at / columns)) / cluster.length,
    ];
  }
}

/** Neighbours in a line; a step across a corner does not count where two steps along the sides do. */
function neighboursIn(skeleton: Uint8Array, columns: number): (at: number) => readonly number[] {
  const steps = ring(columns);
  return (at) =>
    steps.flatMap((step, k) => {
      if (skeleton[at + step] !== 1) return [];
      const isCorner = k % 2 === 1;
      const isBypassed =
        isCorner && (skeleton[at + steps[k - 1]] === 1 || skeleton[at + steps[(k + 1) % 8]] === 1);
      return isBypassed ? [] : [at + step];
    });
}
