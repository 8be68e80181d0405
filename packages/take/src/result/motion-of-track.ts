import { fitMotion, type MotionFit, type MotionOptions, type Quantity, withRowTime } from "@frontpace/fit";
import { soundSpeed } from "@frontpace/planner";
import type {
  FrontTrack,
  Streak,
  SlopeContribution as TrackedEffect,
  TrackOutcome,
} from "@frontpace/tracker";
import type { LimbLengths } from "../path/limb-lengths.js";
import { tiltAtOnce } from "../path/tilt-at-once.js";
import { rowTimeFrames, type Settings } from "../settings/settle.js";
import { timeFramesAt } from "../settings/timestamps.js";
import { TakeError } from "../take-error.js";
import type { TakeWarning } from "../types.js";
import { parametersByDistance } from "./parameters-by-distance.js";

type Point = Streak["path"][0];

/** Relative, by which the speed of sound is changed to see what it does. */
const SMALL_CHANGE = 1e-3;

/** How the front moved: the track with the line that the speed comes from, and the models it was chosen from. */
export interface Motion {
  /** Its line is that of a constant speed, or has the slope of the chosen model at the middle of the observed range. */
  readonly track: FrontTrack;
  /** px along the motion against time counted in frames; null where no other model than a constant speed was tried. */
  readonly fit: MotionFit | null;
  /** What the speed of sound leaves open of the speed of a shock that decays to it; null where it has no part in it. */
  readonly soundSpeed: TrackedEffect | null;
  /** What the camera's distance leaves open of the parameters of the fit, px and frames, where radii were corrected by it. */
  readonly byDistance: Readonly<Record<string, number>>;
  /** Of the tracker, those about a constant speed replaced where a model explains what it does not. */
  readonly warnings: readonly TakeWarning[];
  /** The course at a time counted in frames, straightened px along the path. */
  straightAt(timeFrames: number): number;
  /** Time at which a place of the path was read, counted in frames: that of its frame, and of its row where rows are read in turn. */
  readAt(timeFrames: number, positionPixels: number): number;
  /** What was fitted to a reading, straightened px along the path. */
  fittedAt(timeFrames: number, positionPixels: number): number;
}

/** Applies the row time and the model that is asked for. A constant speed keeps the tracker's line, which knows how positions are tied and
 *  wander.
 *  @param straight  positions as they are seen square on, px, by those in the picture
 *  @param circleOrigin  of a circle that was followed along its radius, px: distances are counted from there, otherwise from where the
 *    path begins
 *  @param limb  of a circle that is the limb of a sphere at a stated distance
 *  @throws TakeError `model-not-determined`, `invalid-value` where the row time cannot be */
export function motionOfTrack(
  { track, streak: { path }, warnings }: Extract<TrackOutcome, { status: "tracked" }>,
  settings: Settings,
  straight: (positionPixels: number) => number,
  circleOrigin: readonly [number, number] | null = null,
  limb: LimbLengths | null = null,
): Motion {
  const { interceptPixels, slopePixelsPerFrame } = track.line;
  const onLine = (timeFrames: number) => interceptPixels + slopePixelsPerFrame * timeFrames;
  const rowTime = rowTimeFrames(settings);
  // The rays of a circle are read so that its radii are those at the time of the origin's row.
  const [firstRow, rowsAlong] = circleOrigin ? [circleOrigin[1], 0] : [path[0][1], rowsPerPixel(path)];
  const timed =
    rowTime === 0
      ? track
      : {
          ...withRows(track, rowTime, rowsAlong),
          tilt: tiltAtOnce(track.tilt, slopePixelsPerFrame, path, rowTime),
        };
  const readAt = (timeFrames: number, positionPixels: number) =>
    timeFrames + rowTime * (firstRow + rowsAlong * positionPixels);
  const asTracked = { track: timed, fit: null, soundSpeed: null, byDistance: {}, warnings };
  if (settings.model === null || settings.model === "constant")
    return { ...asTracked, straightAt: onLine, readAt, fittedAt: onLine };
  const used = track.positions.filter((position) => position.used);
  const sign = Math.sign(slopePixelsPerFrame);
  const seen = circleOrigin ? lengthOf([circleOrigin, path[0]]) : 0;
  const scale = settings.metresPerPixel.value;
  const inner = limb ? limb.firstMetres / scale : seen;
  const origin = sign > 0 ? inner : straight(lengthOf(path));
  const times = used.map(({ frame, timeFrames, positionPixels }) =>
    readAt(timeFrames ?? frame, positionPixels),
  );
  const positions = used.map(({ positionPixels }) => origin + sign * straight(positionPixels));
  const options = {
    model: settings.model,
    standardUncertainty: used.map(({ standardUncertaintyPixels }) => standardUncertaintyPixels),
    ...shockOptions(settings),
  };
  const fit = determined(settings.model, () => fitMotion(times, positions, options));
  const byDistance =
    limb && settings.distanceMetres
      ? parametersByDistance(fit, (factor) => fitFrom(limb.fromDistance(factor)), settings.distanceMetres)
      : {};
  const ofSound =
    fit.model.name === "decaying-shock" ? ofSoundSpeed(fit, times, positions, options, settings) : null;
  const moved = {
    track: withModel(timed, fit, sign),
    fit,
    soundSpeed: ofSound,
    byDistance,
    warnings: warningsOf(fit, warnings),
    readAt,
  };
  if (fit.model.name === "constant") return { ...moved, straightAt: onLine, fittedAt: onLine };
  const straightAt = (time: number) => sign * (fit.model.positionAt(time) - origin);
  return { ...moved, straightAt, fittedAt: (time, at) => straightAt(readAt(time, at)) };

  function fitFrom({ firstMetres, metresAt }: LimbLengths): MotionFit {
    const radii = used.map(({ positionPixels }) => (firstMetres + metresAt(positionPixels)) / scale);
    const end = (firstMetres + metresAt(lengthOf(path))) / scale;
    const places = sign > 0 ? radii : radii.map((radius) => end - radius);
    const { name } = fit.model;
    return determined(name, () => fitMotion(times, places, { ...options, model: name }));
  }
}

/** What is known of a shock beside its positions, in px and frames. */
function shockOptions({
  startTimeSeconds,
  timestamps,
  airTemperatureKelvin,
  rateHz,
  metresPerPixel,
}: Settings): Pick<MotionOptions, "startTime" | "soundSpeed"> {
  const sound = airTemperatureKelvin && soundSpeed({ ...airTemperatureKelvin, standardUncertainty: 0 });
  return {
    ...(startTimeSeconds !== null && {
      startTime: timestamps
        ? timeFramesAt(timestamps, rateHz.value, startTimeSeconds)
        : startTimeSeconds * rateHz.value,
    }),
    ...(sound && { soundSpeed: sound.value / (rateHz.value * metresPerPixel.value) }),
  };
}

/** The model's speed by the speed of sound that it tends to, whose uncertainty is that of the temperature, and that of scale and rate where it
 *  is counted in px and frames. */
function ofSoundSpeed(
  fit: MotionFit,
  times: readonly number[],
  positions: readonly number[],
  options: MotionOptions,
  { airTemperatureKelvin, rateHz, metresPerPixel }: Settings,
): TrackedEffect {
  const { value = 1, standardUncertainty } = airTemperatureKelvin ?? {};
  if (standardUncertainty === undefined)
    return { notEvaluated: "the uncertainty of the temperature of the air was not stated" };
  const sound = options.soundSpeed ?? 0;
  const other = fitMotion(times, positions, {
    ...options,
    model: "decaying-shock",
    soundSpeed: sound * (1 + SMALL_CHANGE),
  });
  const byShare = Math.abs(other.speed.value - fit.speed.value) / SMALL_CHANGE;
  const share = Math.hypot(standardUncertainty / (2 * value), relative(rateHz), relative(metresPerPixel));
  return {
    standardUncertaintyPixelsPerFrame: byShare * share,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
}

function relative({ value, standardUncertainty = 0 }: Quantity): number {
  return standardUncertainty / value;
}

function determined(model: string, fit: () => MotionFit): MotionFit {
  try {
    return fit();
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const message = `model ${model} does not follow from the positions of this take: ${error.message}. Ask for another, or for auto`;
    throw new TakeError("model-not-determined", message, { key: "model", value: model }, { cause: error });
  }
}

function lengthOf([[x1, y1], [x2, y2]]: readonly [Point, Point]): number {
  return Math.hypot(x2 - x1, y2 - y1);
}

function rowsPerPixel(path: Streak["path"]): number {
  return (path[1][1] - path[0][1]) / lengthOf(path);
}

function withRows(track: FrontTrack, rowTime: number, rowsAlong: number): FrontTrack {
  const { line } = track;
  try {
    const { slope, derivative } = withRowTime(line.slopePixelsPerFrame, rowTime, rowsAlong);
    return {
      ...track,
      line: {
        ...line,
        slopePixelsPerFrame: slope,
        standardUncertaintyPixelsPerFrame: derivative * line.standardUncertaintyPixelsPerFrame,
      },
    };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const message = `rowTimeSeconds does not fit the take: the front would run faster against the rows than they are read`;
    throw new TakeError("invalid-value", message, { key: "rowTimeSeconds" }, { cause: error });
  }
}

/** The spread between models joins the one that the tracker found between its windows. */
function withModel(track: FrontTrack, { model, speed }: MotionFit, sign: number): FrontTrack {
  const { line } = track;
  const { modelChoice } = line.contributions;
  const windows = "notEvaluated" in modelChoice ? 0 : modelChoice.standardUncertaintyPixelsPerFrame;
  const contributions = {
    ...line.contributions,
    modelChoice: {
      standardUncertaintyPixelsPerFrame: Math.hypot(windows, speed.modelChoiceUncertainty),
      degreesOfFreedom: Number.POSITIVE_INFINITY,
    },
  };
  if (model.name === "constant") return { ...track, line: { ...line, contributions } };
  return {
    ...track,
    line: {
      ...line,
      slopePixelsPerFrame: sign * speed.value,
      standardUncertaintyPixelsPerFrame: speed.standardUncertainty,
      degreesOfFreedom: speed.degreesOfFreedom,
      wanderShare: line.wanderShare === null ? null : 0,
      contributions,
    },
  };
}

/** A model that explains what a constant speed does not takes the place of the warnings about it. */
function warningsOf({ model }: MotionFit, warnings: readonly TakeWarning[]): TakeWarning[] {
  if (model.name === "constant") return [...warnings];
  const { isRandom, runs, autocorrelation } = model.residualTests;
  return [
    ...warnings.filter(({ code }) => code !== "speed-not-constant" && code !== "residuals-not-random"),
    {
      code: "speed-not-constant",
      message: `the speed is not constant: the model ${model.name} describes the positions, and the speed given is that at the middle of the observed range`,
    },
    ...(isRandom
      ? []
      : [
          {
            code: "residuals-not-random",
            message: `the front stays on one side of the model ${model.name} for several frames at a time (runs ${runs.toFixed(1)} standard deviations from random order, lag-one correlation ${autocorrelation.toFixed(2)}): look at the residuals before trusting it`,
          },
        ]),
  ];
}
