import { compareShapes, type ShapeCandidate } from "./compare-shapes.js";
import { fitShape, type ShapeFit } from "./fit-shape.js";
import { alongRadius, alongSlowness, type InFront } from "./in-front.js";
import { type RigidFront, rigidFront } from "./rigid-front.js";
import { blockMedians, type Samples } from "./samples.js";
import {
  free,
  rigid,
  type ShapeModel,
  sideBySide,
  similar,
  smallestRadius,
  straight,
} from "./shape-models.js";
import type { Point } from "./types.js";

/** Blocks along the diagonal: by their medians, for the noise of single cells would hide how much a form explains of what a shape leaves. */
const BLOCKS = 48;
/** Smaller ones, of which the direction of one that moves as a whole is made: cells of a large picture take long and tell no more. */
const FINE_BLOCKS = 120;
/** What moves as a whole may do so in proportion, too, like a wedge about its tip, or be a bend that many a surface has: that it moves as a whole is believed where it
 *  leaves no more than so many times the mean square. */
const HARDLY_MORE = 1.5;
/** What is said of fronts side by side, which may each have a form of its own. */
const SEVERAL = "several fronts run side by side, each at a speed of its own";
/** Their speeds differ by so much, relative standard deviation over the picture: on drawn maps 9 % where one of two was a fifth faster, and 0.8 % along a high wave that moved as a whole. */
const SPEEDS_APART = 0.05;
/** Directions that are tried: so many steps from the mean one, radians, and then about the best halves of the step down to the finest. */
const ASIDE = Array.from({ length: 13 }, (_, k) => k - 6);
const STEP = (7.5 * Math.PI) / 180;
const FINEST = (0.5 * Math.PI) / 180;
/** A form is the front's own where it leaves so many times less of the mean square than the shape. On drawn fronts wedges, waves and squares left 5 to 20 times less, what is
 *  frayed by chance 2.3 times at most, straight fronts and circles no less. */
const EXPLAINS = 4;
/** Where it runs by so many degrees in another direction, root mean square: across itself it is then slower than along that of the shape by 0.14 %. */
const APART = 3;

/** A form that is neither straight nor a circle and that a front keeps, or changes as one; or several fronts side by side. */
export interface OwnForm {
  /** What it is and the figures that this was decided by, as a sentence. */
  readonly reason: string;
  /** Where it moves as a whole and its arrivals tell in which direction. */
  readonly rigid: RigidFront | null;
  /** Whether they are several fronts, which have no direction or speed in common. */
  readonly areSeveral: boolean;
}

/** A form that is the front's own and not that of the shape which was chosen: one that moves as a whole, one that grows in proportion, or one of no kind in
 *  particular. What is frayed by chance keeps no form on its way.
 *  @param chosen  straight, or a circle
 *  @param name  of that shape
 *  @param origin  about which it may grow, px from the middle; null: none
 *  @param support  by how much of AICc it must do better
 *  @returns null where there is none */
export function ownForm(
  chosen: ShapeFit,
  name: string,
  origin: Point | null,
  samples: Samples,
  inFront: InFront,
  support: number,
): OwnForm | null {
  const blocks = blockMedians(samples, BLOCKS);
  const shape = fitShape(chosen.model, blocks, chosen.parameters);
  const held = fitHeld(rigid, blocks);
  const sheared = fitHeld(sideBySide, blocks);
  const forms: Record<FormName, ShapeFit | null> = {
    "moves as a whole": held?.fit ?? null,
    "grows in proportion": origin && fitSimilar(blocks, origin),
    "changes on its way": fitFrom0(free(samples.reach), blocks),
    [SEVERAL]: sheared?.fit ?? null,
  };
  const compared = shape && compareShapes({ shape, ...forms }, blocks, inFront);
  if (!compared) return null;
  const [of, ...others] = compared.candidates;
  const best = bestForm(others, sheared, blocks);
  const form = best && forms[best.name as FormName];
  if (!form || best.aicc > of.aicc - support || EXPLAINS * best.meanSquare > of.meanSquare) return null;
  const degrees = apart(shape, form, blocks);
  if (!(degrees > APART)) return null;
  const asWhole = compared.candidates.find(({ name: kind }) => kind === "moves as a whole");
  const isWhole = asWhole !== undefined && asWhole.meanSquare < HARDLY_MORE * best.meanSquare;
  const whole =
    isWhole && held ? rigidFront(blockMedians(samples, FINE_BLOCKS), held.fit, held.towards) : null;
  const told = whole && asWhole ? asWhole : best;
  const [left, leftOfShape] = [told, of].map(({ meanSquare }) => Math.sqrt(meanSquare).toPrecision(2));
  const areSeveral = told.name === SEVERAL;
  const what = areSeveral ? SEVERAL : `the front has a form of its own that ${told.name}`;
  return {
    reason: `${what}: with that the arrivals are ${left} frames off (root mean square), with the best simple shape (${name}) ${leftOfShape}, and ${areSeveral ? "they run" : "the front runs"} ${degrees.toFixed(0)} degrees (root mean square) aside of where that shape would; AICc ${told.aicc.toFixed(0)} against ${of.aicc.toFixed(0)}`,
    rigid: whole,
    areSeveral,
  };
}

/** What it does with its form on its way. */
type FormName = "moves as a whole" | "grows in proportion" | "changes on its way" | typeof SEVERAL;

interface Held {
  readonly fit: ShapeFit;
  /** Direction that was held, radians. */
  readonly towards: number;
}

/** The form that does best; several fronts side by side only where they leave so much less than any one front that this is more than
 *  its form, and their speeds differ. */
function bestForm(
  forms: readonly ShapeCandidate[],
  sheared: Held | null,
  blocks: Samples,
): ShapeCandidate | null {
  const several = forms.find(({ name }) => name === SEVERAL);
  const best = forms
    .filter((form) => form !== several)
    .reduce<ShapeCandidate | null>((a, b) => (a && a.aicc <= b.aicc ? a : b), null);
  const areSeveral =
    several &&
    (!best || HARDLY_MORE * several.meanSquare < best.meanSquare) &&
    sheared &&
    spreadOfSpeeds(sheared, blocks) > SPEEDS_APART;
  return areSeveral ? several : best;
}

/** Relative standard deviation of the slowness along the run, over the samples that are used. */
function spreadOfSpeeds({ fit, towards }: Held, { x, y, cell }: Samples): number {
  const unused = new Float64Array(fit.model.parameters);
  const [c, s] = [cell * Math.cos(towards), cell * Math.sin(towards)];
  const at = (px: number, py: number) => fit.model.time(fit.parameters, px, py, unused);
  const slowness = Array.from(x.keys())
    .filter((i) => fit.used[i])
    .map((i) => at(x[i] + c, y[i] + s) - at(x[i] - c, y[i] - s));
  const mean = slowness.reduce((sum, value) => sum + value, 0) / slowness.length;
  const squares = slowness.reduce((sum, value) => sum + (value - mean) ** 2, 0) / slowness.length;
  return Math.sqrt(squares) / Math.abs(mean);
}

/** In the direction, of those aside of the mean slowness, in which least is left: of a wedge whose halves are not of one size, the mean one is not that in which it moves. */
function fitHeld(model: typeof rigid, blocks: Samples): Held | null {
  const mean = fitFrom0(straight, blocks);
  if (!mean) return null;
  const [, px, py] = mean.parameters;
  const about = Math.atan2(py, px);
  let best = leastLeft(ASIDE.map((steps) => about + steps * STEP).flatMap(heldAt));
  for (let step = STEP / 2; best && step > FINEST; step /= 2)
    best = leastLeft([best, ...heldAt(best.towards - step), ...heldAt(best.towards + step)]);
  return best;

  function heldAt(towards: number): Held[] {
    const inFront = alongSlowness(Math.cos(towards), Math.sin(towards));
    const fit = fitFrom0(model(inFront, extentAcross(blocks, inFront)), blocks);
    return fit ? [{ fit, towards }] : [];
  }
}

function leastLeft(held: readonly Held[]): Held | null {
  const left = ({ fit }: Held) => fit.spread / fit.usedCount;
  return held.reduce<Held | null>((best, next) => (best && left(best) <= left(next) ? best : next), null);
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
