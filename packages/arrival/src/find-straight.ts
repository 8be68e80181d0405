import { fitShape, type ShapeFit } from "./fit-shape.js";
import { blockMedians, type Samples } from "./samples.js";
import { straight, straightVarying } from "./shape-models.js";

/** Blocks along the diagonal from which a fit starts. */
const BLOCKS = 24;

/** The straight front of even speed through the arrivals, and the one whose speed changes. */
export function findStraight(samples: Samples): { even: ShapeFit | null; varying: ShapeFit | null } {
  if (samples.x.length < 8) return { even: null, varying: null };
  const start = fitShape(straight, blockMedians(samples, BLOCKS), new Float64Array(3));
  const even = start && fitShape(straight, samples, start.parameters);
  const [a, px, py] = even?.parameters ?? [0, 0, 0];
  const varying = even && fitShape(straightVarying, samples, Float64Array.of(a, px, py, 0, 0));
  return { even, varying };
}
