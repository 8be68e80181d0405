import type { ArrivalMap, FrontShape, RigidFront, VaryingCircle } from "@frontpace/arrival";
import type { FrameSource } from "@frontpace/tracker";
import type { FrameRange } from "../settings/check-against-frames.js";
import { bendsLengths, rowTimeFrames, type Settings } from "../settings/settle.js";
import type { MeasureContext } from "../types.js";
import { formFrames } from "./form-frames.js";
import { inscribedBand } from "./inscribed-band.js";
import { passesInPart } from "./passes-in-part.js";
import { type Oval, polarFrames } from "./polar-frames.js";
import { wholeMap } from "./whole-map.js";

type Point = readonly [x: number, y: number];

/** Along what a front is followed where no path is given. */
export interface InPlane {
  readonly map: ArrivalMap;
  readonly shape: FrontShape;
  /** What runs passes in a part of the picture and leaves nothing. */
  readonly isSpot: boolean;
  readonly along:
    | { readonly kind: "rows-or-columns" }
    | { readonly kind: "path"; readonly path: readonly [Point, Point]; readonly width: number }
    | { readonly kind: "form"; readonly rigid: RigidFront }
    | {
        readonly kind: "radius";
        readonly origin: Point;
        readonly oval?: Oval;
        /** How far it runs while a row is read, px; 0 where all are taken at once. */
        readonly pixelsPerRow: number;
        /** Of a circle whose speed changes too much on the way to be followed as a straight course. */
        readonly varying?: VaryingCircle;
      };
}

/** Fewest frames of which a map is made, and smallest picture, px. */
const FEWEST_FRAMES = 7;
const SMALLEST = 24;
/** A front nearer to rows or columns than this, degrees, is followed along them, where the whole picture is averaged: its trace is at most 0.004 %
 *  faster. */
export const NEARLY = 0.5;
/** So many standard uncertainties of its angle it must lie aside of them. */
export const TOLD = 2;
/** A circle is followed frame by frame where its speed in the first and the last of so many parts of the radii differ by more than this factor: the
 *  tracker takes less for wander about a constant speed. */
const ENDS = 6;
const CHANGES = 1.3;
/** A map tells a direction only where its speed is this certain, relative standard uncertainty, or the angle of a straight front this, degrees: where its speed
 *  changes on the way, the one that is even is not certain. */
const SURE = 0.05;
const SURE_ANGLE = 0.5;
/** Of a front with a form of its own the mean direction will do where its angle is this certain, degrees, standard uncertainty. */
const SURE_MEAN_ANGLE = 5;

/** Of one that moves as a whole the direction is told where its angle is this certain, degrees, standard uncertainty: what that leaves open of the speed is in the
 *  budget. */
const SURE_RUN = 1;

/** The shape of the front, by an arrival map of the whole picture, and the direction in which it is followed: a straight one along the gradient
 *  through the middle, a circle along the rays about its origin; one with a form of its own in the direction in which it moves as a whole, else in its mean direction, anything else, and what the map is not sure of, along
 *  rows or columns.
 *  One of several fronts is followed in the direction in which they were listed: their numbers mean nothing in another.
 *  @returns null where no map is made: a path is given, frames are few, the picture is small */
export async function frontInPlane(
  frames: FrameSource,
  settings: Settings,
  range: FrameRange,
  context: MeasureContext,
): Promise<InPlane | null> {
  const { path, origin, calibration, width } = settings;
  if (path || range.end - range.start < FEWEST_FRAMES) return null;
  if (Math.min(frames.rows, frames.columns) < SMALLEST) return null;
  const map = await wholeMap(frames, settings, range, context);
  const { frontShape } = await import("@frontpace/arrival");
  const shape = frontShape(map, origin ? { origin } : {});
  const way = shape.shape === "straight" && shape.straight ? shape.straight.angleDegrees.value : null;
  const isSpot = way !== null && passesInPart(map, way);
  const known = { width, bends: bendsLengths(calibration), rowTime: rowTimeFrames(settings) };
  return { map, shape, isSpot, along: alongShape(shape, frames, known) };
}

/** Whether a circle runs out at a speed that is another at the two ends of what is seen of it. */
function changes({ radii: [least, most], timeAt }: VaryingCircle): boolean {
  const part = (most - least) / ENDS;
  const inner = timeAt(least + part) - timeAt(least);
  const outer = timeAt(most) - timeAt(most - part);
  return inner > 0 && outer > 0 && Math.max(inner / outer, outer / inner) > CHANGES;
}

/** What is known of a take beside its frames. */
export interface KnownOfTake {
  /** Asked for, px; null: the widest. */
  readonly width: number | null;
  /** Whether lengths come from a plane map or a lens, which are known along straight paths. */
  readonly bends: boolean;
  /** Time from row to row, frames. */
  readonly rowTime: number;
}

/** Along what a front of this shape is followed. */
export function alongShape(
  { shape, ownForm, straight, circle, axes, varying }: FrontShape,
  frames: FrameSource,
  { width, bends, rowTime }: KnownOfTake,
): InPlane["along"] {
  const asBefore = { kind: "rows-or-columns" } as const;
  if (shape === "circle" && varying && !bends && changes(varying)) {
    const { origin, radii, timeAt } = varying;
    const pixelsPerRow = (rowTime * (radii[1] - radii[0])) / (timeAt(radii[1]) - timeAt(radii[0]));
    if (polarFrames(frames, origin, { pixelsPerRow }))
      return { kind: "radius", origin, varying, pixelsPerRow };
  }
  const rigid = shape === "none" && ownForm?.rigid;
  if (
    rigid &&
    !bends &&
    rowTime === 0 &&
    rigid.angleDegrees.standardUncertainty < SURE_RUN &&
    formFrames(frames, rigid, width)
  )
    return { kind: "form", rigid };
  const oval = shape === "circle" && axes?.differ ? axes : null;
  const slowness = (oval ?? (shape === "circle" ? circle : straight))?.slownessFramesPerPixel;
  // One front with a form of its own runs in its mean direction sooner than along rows or columns; of several that direction is none's.
  const laid = shape === "straight" || ownForm ? straight : null;
  const isSure =
    (slowness && slowness.standardUncertainty < SURE * Math.abs(slowness.value)) ||
    (laid && laid.angleDegrees.standardUncertainty < (shape === "straight" ? SURE_ANGLE : SURE_MEAN_ANGLE));
  if (!slowness || !isSure) return asBefore;
  if (laid) {
    const { value: angle, standardUncertainty } = laid.angleDegrees;
    const aside = Math.abs(angle - 90 * Math.round(angle / 90));
    if (!(aside > Math.max(NEARLY, TOLD * standardUncertainty))) return asBefore;
    const band = inscribedBand(frames, (angle * Math.PI) / 180);
    return band
      ? { kind: "path", path: band.path, width: Math.min(width ?? band.width, band.width) }
      : asBefore;
  }
  // A plane map and a lens are known along straight paths.
  if (shape === "circle" && circle && slowness.value !== 0 && !bends) {
    const { origin } = oval ?? circle;
    const rays = {
      ...(oval && { oval: { ratio: oval.ratio.value, angleDegrees: oval.angleDegrees } }),
      pixelsPerRow: rowTime / slowness.value,
    };
    if (polarFrames(frames, origin, rays)) return { kind: "radius", origin, ...rays };
  }
  return asBefore;
}
