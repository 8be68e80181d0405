import { fitShape, type ShapeFit } from "./fit-shape.js";
import { addObservation, emptyEquations, solveEquations } from "./normal-equations.js";
import { blockMedians, type Samples } from "./samples.js";
import { circle, circleVarying, ellipse, type ShapeModel, smallestRadius } from "./shape-models.js";
import type { Point } from "./types.js";

/** Blocks along the diagonal from which a fit starts. */
const BLOCKS = 24;

/** The circle of even speed through the arrivals, the one whose speed changes on the way, and the one whose speed differs by direction.
 *  @param origin  px in the picture; null: found */
export function findCircle(
  samples: Samples,
  origin: Point | null,
): { even: ShapeFit | null; varying: ShapeFit | null; oval: ShapeFit | null } {
  const { middle, reach } = samples;
  const given: Point | null = origin && [origin[0] - middle[0], origin[1] - middle[1]];
  const smallest = smallestRadius(samples);
  const model = circle(smallest, given);
  if (samples.x.length < 12) return { even: null, varying: null, oval: null };
  const start = bestStart(blockMedians(samples, BLOCKS), model, given);
  const even = start && fitShape(model, samples, start);
  if (!even) return { even, varying: null, oval: null };
  const [t0, slowness, ...place] = even.parameters;
  const round = Float64Array.of(t0, slowness, 0, 0, ...place);
  return {
    even,
    varying: fitShape(circleVarying(smallest, reach, given), samples, round),
    oval: fitShape(ellipse(smallest, given), samples, round),
  };
}

/** The start from which least is left. */
function bestStart(blocks: Samples, model: ShapeModel, given: Point | null): Float64Array | null {
  const starts = given ? [startAbout(blocks, given)] : origins(blocks).map((at) => startAbout(blocks, at));
  let best: ShapeFit | null = null;
  for (const start of starts) {
    const fit = start && fitShape(model, blocks, given ? start.slice(0, 2) : start);
    if (fit && (!best || fit.spread * best.usedCount < best.spread * fit.usedCount)) best = fit;
  }
  return best?.parameters ?? null;
}

/** Where the origin may be: by linear least squares on (T − t0)² v² = |r − c|², and on rays through the middle. */
function origins(samples: Samples): Point[] {
  const { x, y, time, reach } = samples;
  const span = Math.max(1, ...time.map(Math.abs));
  const equations = emptyEquations(5);
  const d = new Float64Array(5);
  for (let i = 0; i < x.length; i++) {
    const t = time[i] / span;
    d.set([x[i] / reach, y[i] / reach, t * t, t, 1]);
    addObservation(equations, d, (x[i] ** 2 + y[i] ** 2) / reach ** 2, 1);
  }
  const linear = solveEquations(equations);
  const found: Point[] = linear ? [[(linear[0] * reach) / 2, (linear[1] * reach) / 2]] : [];
  for (let ray = 0; ray < 8; ray++) {
    const angle = (ray * Math.PI) / 4;
    for (const far of [0.5, 1.5]) found.push([far * reach * Math.cos(angle), far * reach * Math.sin(angle)]);
  }
  return [...found, [0, 0]];
}

function startAbout(samples: Samples, [cx, cy]: Point): Float64Array | null {
  const equations = emptyEquations(2);
  const d = new Float64Array(2);
  samples.x.forEach((x, i) => {
    d.set([1, Math.hypot(x - cx, samples.y[i] - cy)]);
    addObservation(equations, d, samples.time[i], 1);
  });
  const line = solveEquations(equations);
  return line && Float64Array.of(line[0], line[1], cx, cy);
}
