import type { RigidFront } from "@frontpace/arrival";
import { type Quantity, type Speed, speedFrom } from "@frontpace/fit";
import { type SlopeContribution as TrackedEffect, type TrackOutcome, tiltWarnings } from "@frontpace/tracker";
import { programVersion } from "../files/program-version.js";
import type { CalibratedPath } from "../path/calibrated-path.js";
import type { LimbLengths } from "../path/limb-lengths.js";
import { assertFinite } from "../schemas/assert-finite.js";
import { otherEvents } from "../search/other-events.js";
import { collectionSeconds } from "../settings/collection-seconds.js";
import { rowTimeFrames, type Settings } from "../settings/settle.js";
import type { MeasuredResult, Measurement, TakeResult, TakeSearch, TrackRow } from "../types.js";
import { describeFront } from "./describe-front.js";
import { directionEffect } from "./direction-effect.js";
import { effectsBeyondFit, type NotEvaluated } from "./effects-beyond-fit.js";
import { frontDefinitionWarning } from "./front-definition-warning.js";
import { frameOf, linesOf } from "./front-lines.js";
import { lowerBound } from "./lower-bound.js";
import { modelInUnits, triedInUnits } from "./model-in-units.js";
import { type Motion, motionOfTrack } from "./motion-of-track.js";
import { readingOnly, unstated } from "./reading-only.js";
import { speedAlong } from "./speed-along.js";
import { type FramesUsed, takeAsUsed } from "./take-as-used.js";
import { trackRecord } from "./track-record.js";
import { trackRows } from "./track-rows.js";
import { widthAdjusted } from "./width-adjusted.js";
import type { Evidence } from "./with-evidence.js";

const READ_STEPS = 8;

/** What was done besides following. */
export interface Circumstances {
  /** How the frames were found. Default: they were given. */
  readonly search?: TakeSearch | null;
  /** What the calibration says of the path. Default: there is none. */
  readonly calibrated?: CalibratedPath | null;
  /** Taken where none is asked for. Default: a constant speed. */
  readonly model?: Settings["model"];
  /** Origin of a circle that was followed along its radius, px. Default: none was. */
  readonly origin?: readonly [number, number] | null;
  /** Of a circle that is the limb of a sphere at a stated distance. Default: it is not known to be one. */
  readonly limb?: LimbLengths | null;
  /** Of one that moves as a whole and was followed in its direction. Default: none was. */
  readonly rigid?: RigidFront | null;
}

/** The result of a tracker outcome, keys in the order of the file, and the rows of track.csv.
 *  @throws TakeError `not-finite`: a fault of the program */
export function assembleResult(
  outcome: TrackOutcome,
  settings: Settings,
  frames: FramesUsed,
  {
    search = null,
    calibrated = null,
    origin = null,
    model = null,
    limb = null,
    rigid = null,
  }: Circumstances = {},
): {
  readonly result: TakeResult;
  readonly track: readonly TrackRow[];
  readonly course: Measurement["course"];
  readonly lineInPicture: Measurement["lineInPicture"];
  readonly evidence: Pick<Evidence, "track" | "speedAlong">;
} {
  const used = calibrated ? { ...settings, metresPerPixel: calibrated.metresPerPixel } : settings;
  const { metresPerPixel } = used;
  const lengths = calibrated?.lengths ?? limb;
  const straight = (pixels: number) => (lengths ? lengths.metresAt(pixels) / metresPerPixel.value : pixels);
  const motion =
    outcome.status === "tracked"
      ? motionOfTrack(outcome, { ...used, model: used.model ?? model }, straight, origin, limb)
      : null;
  const moved =
    motion && outcome.status === "tracked"
      ? { ...outcome, track: motion.track, warnings: motion.warnings }
      : outcome;
  const isCurved = motion?.fit ? motion.fit.model.name !== "constant" : false;
  const rows = trackRows(outcome, used, lengths);
  const track = motion && isCurved ? aboutModel(rows, motion, used) : rows;
  const inPicture = (pixels: number) => lengths?.pixelsAt(pixels * metresPerPixel.value) ?? pixels;
  const course = motion && (lengths || isCurved) ? courseOf(motion, inPicture) : null;
  const along = motion && speedAlong(track, motion, used);
  const assembled = {
    result: resultOf(moved, motion, used, frames, search, calibrated, origin !== null, limb, rigid),
    track,
    evidence: {
      ...(motion && { track: trackRecord(track, motion, used, lengths) }),
      ...(along && { speedAlong: along }),
    },
    course: isCurved ? course : null,
    lineInPicture:
      course?.map(({ frame, positionPixels }) => ({ frame, positionPixels: inPicture(positionPixels) })) ??
      null,
  };
  assertFinite(assembled.result, "result");
  assertFinite(assembled.track, "track");
  assertFinite(assembled.evidence, "evidence");
  return assembled;
}

/** The rows with their residuals about a model in place of those about the tracker's line. */
function aboutModel(
  rows: readonly TrackRow[],
  motion: Motion,
  { rateHz, metresPerPixel }: Settings,
): readonly TrackRow[] {
  return rows.map((row) => ({
    ...row,
    residualPixels:
      row.positionMetres / metresPerPixel.value -
      motion.fittedAt(row.timeSeconds * rateHz.value, row.positionPixels),
  }));
}

/** The course of the front, straight in the plane or that of a model, straightened px by frame. Where rows are read in turn, its place says when
 *  it was read: each step of the search for it is shorter than the last by the front's speed in rows.
 *  @param inPicture  px of the picture by straightened px */
function courseOf(
  { track: { firstFrame, lastFrame }, straightAt, fittedAt }: Motion,
  inPicture: (pixels: number) => number,
): NonNullable<Measurement["course"]> {
  const step = Math.max(1, Math.ceil((lastFrame - firstFrame) / 200));
  const frames = Array.from(
    { length: Math.floor((lastFrame - firstFrame) / step) + 1 },
    (_, k) => firstFrame + k * step,
  );
  return frames.map((frame) => {
    let positionPixels = straightAt(frame);
    for (let k = 0; k < READ_STEPS; k++) positionPixels = fittedAt(frame, inPicture(positionPixels));
    return { frame, positionPixels };
  });
}

function resultOf(
  outcome: TrackOutcome,
  motion: Motion | null,
  settings: Settings,
  frames: FramesUsed,
  search: TakeSearch | null,
  calibrated: CalibratedPath | null,
  isCircle: boolean,
  limb: LimbLengths | null,
  rigid: RigidFront | null,
): TakeResult {
  const head = {
    format: "frontpace-result" as const,
    version: 1 as const,
    program: { name: "frontpace" as const, version: programVersion },
  };
  const take = takeAsUsed(settings, frames, outcome.streak, calibrated);
  const warnings = [...frames.warnings, ...outcome.warnings].map(({ code, message }) => ({ code, message }));
  warnings.push(...widthAdjusted(settings, frames, outcome.streak));
  warnings.push(...otherEvents(search));
  const searched = search && { search: searchOf(search) };
  if (calibrated) warnings.push(...calibrated.warnings);
  const { rateHz, metresPerPixel } = settings;

  if (outcome.status === "not-found") {
    const { reason, message } = outcome;
    const notFound = { reason, message };
    if (!warnings.some(({ code }) => code === reason)) warnings.push({ code: reason, message });
    const fronts = linesOf(outcome.fronts ?? [], settings);
    return {
      ...head,
      status: "not-found",
      speed: null,
      lowerBound: null,
      front: null,
      ...(fronts.length > 0 && { fronts }),
      model: null,
      take,
      ...searched,
      notFound,
      warnings,
    };
  }
  if (outcome.status === "crossed") {
    const { lastFrameBefore, firstFrameAfter, lengthPixels } = outcome;
    const missing = unstated(settings);
    if (missing.length > 0) warnings.push(readingOnly(missing, "bound"));
    const bound = {
      value: lowerBound(outcome, rateHz, leastScale(metresPerPixel, calibrated), collectionSeconds(settings)),
      confidence: 0.95 as const,
      complete: missing.length === 0,
      missing,
      lastFrameBefore: frameOf(lastFrameBefore, settings),
      firstFrameAfter: frameOf(firstFrameAfter, settings),
      lengthPixels,
    };
    return {
      ...head,
      status: "bounded",
      speed: null,
      lowerBound: bound,
      front: null,
      model: null,
      take,
      ...searched,
      notFound: null,
      warnings,
    };
  }

  const fit = motion?.fit ?? null;
  const { further, notEvaluated } = effectsBeyondFit(outcome.track, calibrated?.effects, {
    soundSpeed: motion?.soundSpeed ?? null,
    direction:
      rigid && directionEffect(rigid, outcome.streak.width / 2, outcome.track.line.slopePixelsPerFrame),
    isCircle,
    limb: limb && motion && limbEffect(limb, motion.track, settings.distanceMetres),
  });
  const speed = orderedSpeed(speedFrom(outcome.track.line, rateHz, metresPerPixel, further), notEvaluated);
  if (!speed.complete) warnings.push(readingOnly(speed.missing, "interval"));
  warnings.push(...frontDefinitionWarning(speed.budget));
  const { value, standardUncertainty } = speed;
  const model =
    fit && fit.model.name !== "constant"
      ? modelInUnits(fit, settings, motion?.byDistance)
      : {
          name: "constant",
          parameters: { speed: { value, standardUncertainty, unit: "m/s" } },
          ...(fit && triedInUnits(fit.tried, rateHz.value * metresPerPixel.value)),
        };
  const front = describeFront(outcome.track, value, settings, calibrated);
  const alternatives = linesOf(outcome.alternatives, settings);
  // The tracker sees the angle in the picture, which is another in a plane seen obliquely, and where rows are read in turn.
  const isOther = Boolean(calibrated?.sides) || rowTimeFrames(settings) !== 0;
  const ofFront = isOther && front.tilt ? tiltWarnings(front.tilt.degrees) : null;
  return {
    ...head,
    status: "measured",
    speed,
    lowerBound: null,
    front,
    ...(outcome.fronts.length > 1 && { fronts: linesOf(outcome.fronts, settings) }),
    ...(alternatives.length > 0 && { alternatives }),
    model,
    take,
    ...searched,
    notFound: null,
    warnings: ofFront ? [...warnings.filter(({ code }) => code !== "front-tilted"), ...ofFront] : warnings,
  };
}

/** What the uncertainty of the camera's distance makes of the speed, at the middle of the positions used. */
function limbEffect(
  limb: LimbLengths,
  { positions, line }: Motion["track"],
  distance: Quantity | null,
): TrackedEffect {
  if (distance?.standardUncertainty === undefined)
    return {
      notEvaluated: `the radii are corrected for a camera at ${distance?.value} m from the centre, and the uncertainty of that distance was not stated`,
    };
  const used = positions.filter((position) => position.used).map(({ positionPixels }) => positionPixels);
  const share = limb.speedByDistance((Math.min(...used) + Math.max(...used)) / 2);
  const relative = (share * distance.standardUncertainty) / distance.value;
  return {
    standardUncertaintyPixelsPerFrame: relative * Math.abs(line.slopePixelsPerFrame),
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
}

/** How the frames were found, keys in the order of the file. */
function searchOf({ events }: TakeSearch): NonNullable<TakeResult["search"]> {
  const { frames, framesRead, events: found, shortestFrames, passingSought, weakestSeen } = events;
  return { frames, framesRead, events: found, shortestFrames, passingSought, weakestSeen };
}

/** The smallest scale on the path: where on it the front was is not known. */
function leastScale(metresPerPixel: Quantity, calibrated: CalibratedPath | null): Quantity {
  if (!calibrated) return metresPerPixel;
  const value = calibrated.record.leastMetresPerPixel;
  const { standardUncertainty: u } = metresPerPixel;
  return { value, ...(u !== undefined && { standardUncertainty: (u * value) / metresPerPixel.value }) };
}

/** A copy with the key order of the file, whatever the order in which the parts were computed. */
function orderedSpeed(speed: Speed, notEvaluated: readonly NotEvaluated[]): MeasuredResult["speed"] {
  const { value } = speed;
  return {
    value,
    standardUncertainty: speed.standardUncertainty,
    expandedUncertainty: speed.expandedUncertainty,
    coverageFactor: speed.coverageFactor,
    coverageProbability: speed.coverageProbability,
    degreesOfFreedom: speed.degreesOfFreedom,
    complete: speed.complete,
    missing: [...speed.missing],
    budget: speed.budget.map(({ source, type, standardUncertainty, degreesOfFreedom }) => ({
      source,
      type,
      standardUncertainty,
      degreesOfFreedom,
      ...(value > 0 && { relative: standardUncertainty / value }),
    })),
    notEvaluated: notEvaluated.map(({ source, reason }) => ({ source, reason })),
  };
}
