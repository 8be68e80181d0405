import { type CircularFront, describeCircle } from "./circular-front.js";
import { compareShapes, type ShapeCandidate } from "./compare-shapes.js";
import { findCircle } from "./find-circle.js";
import { findStraight } from "./find-straight.js";
import { fitShape, type ShapeFit } from "./fit-shape.js";
import { type FrontAxes, frontAxes } from "./front-axes.js";
import { alongRadius, alongSlowness, type InFront } from "./in-front.js";
import { liesElsewhere } from "./lies-elsewhere.js";
import { type OwnForm, ownForm } from "./own-form.js";
import { type Samples, samplesOf } from "./samples.js";
import { free } from "./shape-models.js";
import { describeStraight, type StraightFront } from "./straight-front.js";
import type { ArrivalMap, Point } from "./types.js";
import { type VaryingCircle, varyingCircle } from "./varying-circle.js";

export interface FrontShapeOptions {
  /** Origin of a circle, px in the picture, which may lie outside. Default: found. */
  readonly origin?: Point;
}

/** What shape the front has, and the figures that it was decided by. */
export interface FrontShape {
  /** `none`: a front, but neither straight nor a circle; `no-front`: nothing that runs. */
  readonly shape: "straight" | "circle" | "none" | "no-front";
  /** Why, in a sentence. */
  readonly reason: string;
  /** Where it is `none` because it has a form of its own: one front, that runs in one direction on the whole. */
  readonly ownForm: OwnForm | null;
  readonly straight: StraightFront | null;
  readonly circle: CircularFront | null;
  /** Where an origin was given: the circle about the one that the arrivals have. */
  readonly circleFound: CircularFront | null;
  /** Whether that is surely another than the one given; then it is `none` where the front is a circle about that one only. */
  readonly originContradicted: boolean;
  /** How the speed of the circle differs by direction. */
  readonly axes: FrontAxes | null;
  /** The circle whose speed changes on the way, where that explains the arrivals and an even one does not. */
  readonly varying: VaryingCircle | null;
  /** Every model that was tried. */
  readonly candidates: readonly ShapeCandidate[];
  /** Cells that have an arrival, what share of the picture they are, and how many independent ones they are worth. */
  readonly cells: number;
  readonly share: number;
  readonly effectiveCells: number;
}

/** Fewer cells than this, or a smaller share of the picture, show no front. */
const FEWEST_CELLS = 40;
const LEAST_SHARE = 0.02;
/** A slowness of fewer standard uncertainties is none: everything may have changed at once. */
const SLOWNESS = 8;
/** A shape is preferred to a simpler one by this much of AICc: the simpler then has essentially no support (Burnham and Anderson,
 *  Model Selection and Multimodel Inference, 2002, 2.6; citation from memory). */
const SUPPORT = 10;
/** No shape is right from which the arrivals stand apart by this share of the time that the front takes. */
const MISFIT = 0.03;
/** A front explains this share of the spread of the arrivals. */
const EXPLAINED = 0.5;

/** Straight at any angle, a circle (or the ellipse that it becomes where speeds differ by direction) about an origin in the picture or outside, or neither: by robust fits of the arrivals, compared by Akaike's
 *  criterion for as many cells as are independent. */
export function frontShape(map: ArrivalMap, { origin }: FrontShapeOptions = {}): FrontShape {
  const samples = samplesOf(map);
  const shape = shapeAbout(origin ?? null, samples, map);
  return origin ? heldAgainst(shape, shapeAbout(null, samples, map), origin) : shape;
}

/** The shape about an origin that was given, with the one that the arrivals have beside it. */
function heldAgainst(shape: FrontShape, theirs: FrontShape, given: Point): FrontShape {
  const about = theirs.varying ?? theirs.circle;
  if (!theirs.circle || !about) return shape;
  const { origin, originUncertainty } = about;
  const circleFound = { ...theirs.circle, origin, originUncertainty };
  const [x, y] = originUncertainty ?? [];
  const originContradicted =
    x !== undefined &&
    y !== undefined &&
    liesElsewhere(given, origin, [x.standardUncertainty, y.standardUncertainty]);
  if (!originContradicted || shape.shape === "circle" || theirs.shape !== "circle")
    return { ...shape, circleFound, originContradicted };
  const [at, from] = [origin, given].map((point) => point.map((value) => value.toFixed(1)).join(", "));
  const reason = `about the origin that was given, ${from} px, the arrivals are no circle; about ${at} px they are: ${theirs.reason}`;
  return { ...shape, shape: "none", reason, ownForm: null, circleFound, originContradicted };
}

/** @param origin  about which a circle is looked for; null: found */
function shapeAbout(origin: Point | null, samples: Samples, map: ArrivalMap): FrontShape {
  const cells = samples.x.length;
  const share = cells / map.arrival.length;
  const nothing = (reason: string): FrontShape => ({
    shape: "no-front",
    reason,
    ownForm: null,
    straight: null,
    circle: null,
    circleFound: null,
    originContradicted: false,
    axes: null,
    varying: null,
    candidates: [],
    cells,
    share,
    effectiveCells: 0,
  });
  if (cells < FEWEST_CELLS || share < LEAST_SHARE)
    return nothing(`only ${cells} cells, ${percent(share)} of the picture, change by more than the noise`);
  const lines = findStraight(samples);
  const circles = findCircle(samples, origin);
  const found = origin ? findCircle(samples, null).even : circles.even;
  const noShape = fitShape(free(samples.reach), samples, new Float64Array(15));
  const fits = {
    straight: lines.even,
    "straight, speed varies": lines.varying,
    circle: circles.even,
    "circle, speed varies": circles.varying,
    ellipse: circles.oval,
    free: noShape,
  };
  const inFront = inFrontOf(circles.even, lines.even, samples, origin);
  const compared = compareShapes(fits, samples, inFront);
  if (!compared) return nothing("no shape fits the arrivals");
  const circle = circles.even && describeCircle(circles.even, samples, origin);
  const axes = circles.oval && frontAxes(circles.oval, samples, origin);
  const { candidates, effectiveCells, span } = compared;
  const aiccOf = (wanted: string) =>
    candidates.find(({ name }) => name === wanted)?.aicc ?? Number.POSITIVE_INFINITY;
  const lineVaries = aiccOf("straight, speed varies") < aiccOf("straight") - SUPPORT;
  const straight = lines.even && describeStraight(lines.even, samples, lineVaries ? lines.varying : null);
  const varies = ["circle", "ellipse"].every(
    (name) => aiccOf("circle, speed varies") < aiccOf(name) - SUPPORT,
  );
  const varying = varies && circles.varying ? varyingCircle(circles.varying, samples, origin) : null;
  return {
    ownForm: null,
    ...decide(),
    straight,
    circle,
    circleFound: null,
    originContradicted: false,
    axes,
    varying,
    candidates,
    cells,
    share,
    effectiveCells,
  };

  /** A form that the shape of this name does not have; of an even circle the one about the origin that the arrivals have: another that was given is no form. */
  function ownFormBeside(name: keyof typeof fits): OwnForm | null {
    const fit = name === "circle" || name === "ellipse" ? (origin ? found : fits[name]) : fits[name];
    return fit && ownForm(fit, name, originOf(found), samples, inFront, SUPPORT);
  }

  function decide(): Pick<FrontShape, "shape" | "reason"> & Partial<Pick<FrontShape, "ownForm">> {
    const best = (names: readonly string[]) =>
      candidates
        .filter(({ name }) => names.includes(name))
        .reduce<ShapeCandidate | null>((a, b) => (a && a.aicc <= b.aicc ? a : b), null);
    const line = best(["straight", "straight, speed varies"]);
    const round = best(["circle", "circle, speed varies"]);
    const none = best(["free"]);
    // About an origin so far away that its slowness is not told, it is no ellipse but a bend of some other form.
    const oval = significance(axes) > SLOWNESS ? best(["ellipse"]) : null;
    const rounder = round && oval && oval.aicc < round.aicc - SUPPORT ? oval : round;
    // An ellipse is flexible enough for what is not round at all: the circle must do better than the line by itself. Of a long ellipse a line does better that
    // runs to its middle and back; it need not where the ellipse does better than no shape.
    const evenLine = best(["straight"]);
    const isOval = none !== null && oval !== null && oval.aicc < none.aicc - SUPPORT;
    const rival = isOval && evenLine ? evenLine : line;
    const isRound =
      round !== null &&
      rounder !== null &&
      (!line ||
        !rival ||
        (rounder.aicc < line.aicc - SUPPORT && (rounder === round || round.explained > rival.explained)));
    const chosen = isRound ? rounder : line;
    if (!chosen) return { shape: "no-front", reason: "no shape fits the arrivals" };
    if (chosen.explained < EXPLAINED && !(none && none.explained > EXPLAINED))
      return {
        shape: "no-front",
        reason: `what arrives where is not in order: the best shape explains ${percent(chosen.explained)} of the spread of the arrivals`,
      };
    const ofChosen = significance(chosen === oval ? axes : isRound ? circle : straight);
    const misfit = none ? Math.sqrt(Math.max(0, chosen.meanSquare - none.meanSquare)) / span : 0;
    const own = ownFormBeside(chosen.name as keyof typeof fits);
    const isNone = none !== null && none.aicc < chosen.aicc - SUPPORT && misfit > MISFIT;
    // Several fronts change their form, too, as if they were one.
    if (own && (!isNone || own.rigid || own.areSeveral))
      return { shape: "none", reason: own.reason, ownForm: own.areSeveral ? null : own };
    if (isNone)
      return {
        shape: "none",
        reason: `the arrivals stand apart from the best shape (${chosen.name}) by ${percent(misfit)} of the time that the front takes; AICc ${chosen.aicc.toFixed(0)} against ${none.aicc.toFixed(0)} for no shape`,
      };
    if (!(ofChosen > SLOWNESS))
      return {
        shape: "no-front",
        reason: `the slowness is ${ofChosen.toFixed(1)} times its standard uncertainty: the change may have been everywhere at once`,
      };
    const other = isRound ? line : rounder;
    return {
      shape: isRound ? "circle" : "straight",
      reason: `AICc ${chosen.aicc.toFixed(0)} (${chosen.name})${other ? ` against ${other.aicc.toFixed(0)} (${other.name})` : ""}${isRound || !other || chosen.aicc <= other.aicc ? "" : `; the simpler is kept within ${SUPPORT}`}`,
    };
  }
}

/** How many standard uncertainties its slowness is. */
function significance(shape: StraightFront | CircularFront | FrontAxes | null): number {
  const slowness = shape?.slownessFramesPerPixel;
  return slowness ? Math.abs(slowness.value) / slowness.standardUncertainty : 0;
}

function originOf(circle: ShapeFit | null): Point | null {
  return circle && [circle.parameters[2], circle.parameters[3]];
}

function inFrontOf(
  circle: ShapeFit | null,
  line: ShapeFit | null,
  { middle }: Samples,
  origin: Point | null,
): InFront {
  if (circle && (!line || circle.spread < line.spread)) {
    const [, , x, y] = circle.parameters;
    return alongRadius(origin ? [origin[0] - middle[0], origin[1] - middle[1]] : [x, y]);
  }
  const [, px, py] = line?.parameters ?? [0, 1, 0];
  return alongSlowness(px, py);
}

const percent = (share: number) => `${(100 * share).toPrecision(2)} %`;
