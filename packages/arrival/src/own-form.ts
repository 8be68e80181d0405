import { compareShapes, type ShapeCandidate } from "./compare-shapes.js";
import { fitShape, type ShapeFit } from "./fit-shape.js";
import { alongRadius, alongSlowness, type InFront } from "./in-front.js";
import { blockMedians, type Samples } from "./samples.js";
import { free, rigid, type ShapeModel, similar, smallestRadius, straight } from "./shape-models.js";
import type { Point } from "./types.js";

/** Blocks along the diagonal: by their medians, for the noise of single cells would hide how much a form explains of what a shape leaves. */
const BLOCKS = 48;
/** Degrees from the mean direction that are tried. */
const ASIDE = Array.from({ length: 13 }, (_, k) => 7.5 * (k - 6));
/** A form is the front's own where it leaves so many times less of the mean square than the shape. On drawn fronts wedges, waves and squares left 5 to 20 times less, what is
 *  frayed by chance 2.3 times at most, straight fronts and circles no less. */
const EXPLAINS = 4;
/** Where it runs by so many degrees in another direction, root mean square: across itself it is then slower than along that of the shape by 0.14 %. */
const APART = 3;

/** A form that is the front's own and not that of the shape which was chosen: one that moves as a whole, one that grows in proportion, or one of no kind in
 *  particular. What is frayed by chance keeps no form on its way.
 *  @param chosen  straight, or a circle
 *  @param origin  about which it may grow, px from the middle; null: none
 *  @param support  by how much of AICc it must do better
 *  @returns what it is, in words; null where there is none */
export function ownForm(
  chosen: ShapeFit,
  origin: Point | null,
  samples: Samples,
  inFront: InFront,
  support: number,
): string | null {
  const blocks = blockMedians(samples, BLOCKS);
  const shape = fitShape(chosen.model, blocks, chosen.parameters);
  const forms: Record<string, ShapeFit | null> = {
    "a form of its own that moves as a whole": fitRigid(blocks),
    "a form of its own that grows in proportion": origin && fitSimilar(blocks, origin),
    "a form of its own that changes on its way": fitFrom0(free(samples.reach), blocks),
  };
  const compared = shape && compareShapes({ shape, ...forms }, blocks, inFront);
  if (!compared) return null;
  const [of, ...others] = compared.candidates;
  const best = others.reduce<ShapeCandidate | null>((a, b) => (a && a.aicc <= b.aicc ? a : b), null);
  const form = best && forms[best.name];
  if (!form || best.aicc > of.aicc - support || EXPLAINS * best.meanSquare > of.meanSquare) return null;
  const degrees = apart(shape, form, blocks);
  return degrees > APART
    ? `it has ${best.name}: that runs by ${degrees.toFixed(0)} degrees (root mean square) in another direction than the shape, and leaves ${Math.sqrt(best.meanSquare).toPrecision(2)} frames where the shape leaves ${Math.sqrt(of.meanSquare).toPrecision(2)}; AICc ${best.aicc.toFixed(0)} against ${of.aicc.toFixed(0)}`
    : null;
}

/** Along the mean slowness and aside of it: of a wedge whose halves are not of one size, that is not the direction in which it moves. */
function fitRigid(blocks: Samples): ShapeFit | null {
  const mean = fitFrom0(straight, blocks);
  if (!mean) return null;
  const [, px, py] = mean.parameters;
  const fits = ASIDE.flatMap((degrees) => {
    const angle = Math.atan2(py, px) + (degrees * Math.PI) / 180;
    const inFront = alongSlowness(Math.cos(angle), Math.sin(angle));
    return fitFrom0(rigid(inFront, extentAcross(blocks, inFront)), blocks) ?? [];
  });
  return fits.reduce<ShapeFit | null>(
    (best, fit) => (best && best.spread * fit.usedCount <= fit.spread * best.usedCount ? best : fit),
    null,
  );
}

function fitSimilar(blocks: Samples, origin: Point): ShapeFit | null {
  const inFront = alongRadius(origin);
  return fitFrom0(similar(inFront, extentAcross(blocks, inFront), smallestRadius(blocks)), blocks);
}

function fitFrom0(model: ShapeModel, samples: Samples): ShapeFit | null {
  return fitShape(model, samples, new Float64Array(model.parameters));
}

function extentAcross({ x, y }: Samples, inFront: InFront): [number, number] {
  const across = Array.from(x, (value, i) => inFront(value, y[i])[1]);
  return [
    across.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
    across.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
  ];
}

/** Root mean square of the angle between the gradients of two fits at the samples that either uses, degrees. */
function apart(one: ShapeFit, other: ShapeFit, { x, y, cell }: Samples): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < x.length; i++) {
    if (!(one.used[i] || other.used[i])) continue;
    const [ax, ay] = gradient(one, x[i], y[i], cell);
    const [bx, by] = gradient(other, x[i], y[i], cell);
    const angle = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    if (!Number.isFinite(angle)) continue;
    sum += angle ** 2;
    count++;
  }
  return (Math.sqrt(sum / count) * 180) / Math.PI;
}

function gradient({ model, parameters }: ShapeFit, x: number, y: number, step: number): [number, number] {
  const unused = new Float64Array(model.parameters);
  const at = (dx: number, dy: number) => model.time(parameters, x + dx, y + dy, unused);
  return [at(step, 0) - at(-step, 0), at(0, step) - at(0, -step)];
}
