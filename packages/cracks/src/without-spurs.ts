import { thin } from "./thin.js";
import { type SkeletonEdge, type SkeletonGraph, traceSkeleton } from "./trace-skeleton.js";

/** A graph without its short side lines, which thinning leaves where the edge of a line is rough.
 *  @param shortest  side lines of fewer pixels go, and so do lines of fewer pixels that hang together with nothing */
export function withoutSpurs(
  skeleton: Uint8Array,
  { rows, columns }: { readonly rows: number; readonly columns: number },
  shortest: number,
): SkeletonGraph {
  let picture = skeleton;
  for (;;) {
    const graph = traceSkeleton(picture, columns);
    const gone = spursOf(graph, shortest);
    if (gone.length === 0) return graph;
    picture = picture.slice();
    for (const { pixels, from, to } of gone) {
      for (const at of pixels) picture[at] = 0;
      for (const node of [from, to]) clearEnd(picture, graph, node, columns);
    }
    picture = thin(picture, rows, columns);
  }
}

/** Of the side lines at one node the shortest: what is left may then be a line that goes on. */
function spursOf({ nodes, edges }: SkeletonGraph, shortest: number): readonly SkeletonEdge[] {
  const chosen = new Map<number, SkeletonEdge>();
  for (const edge of edges) {
    if (edge.pixels.length >= shortest) continue;
    const [fromEnds, toEnds] = [edge.from, edge.to].map((node) => nodes[node].degree === 1);
    if (!fromEnds && !toEnds) continue;
    const at = fromEnds ? edge.to : edge.from;
    const best = chosen.get(at);
    if (!best || edge.pixels.length < best.pixels.length) chosen.set(at, edge);
  }
  return [...chosen.values()];
}

function clearEnd(picture: Uint8Array, { nodes }: SkeletonGraph, node: number, columns: number): void {
  const { at, degree } = nodes[node];
  if (degree === 1) picture[Math.round(at[1]) * columns + Math.round(at[0])] = 0;
}
