import { fitMotion, type MotionFit, withRowTime } from "@frontpace/fit";
import type { FrontTrack, Streak, TrackOutcome } from "@frontpace/tracker";
import type { Settings } from "./settle.js";
import { TakeError } from "./take-error.js";
import type { TakeWarning } from "./types.js";

/** How the front moved: the track with the line that the speed comes from, and the models it was chosen from. */
export interface Motion {
  /** Its line is that of a constant speed, or has the slope of the chosen model at the middle of the observed range. */
  readonly track: FrontTrack;
  /** px along the motion against time counted in frames; null where no other model than a constant speed was tried. */
  readonly fit: MotionFit | null;
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
 *  @throws TakeError `model-not-determined`, `invalid-value` where the row time cannot be */
export function motionOfTrack(
  { track, streak: { path }, warnings }: Extract<TrackOutcome, { status: "tracked" }>,
  settings: Settings,
  straight: (positionPixels: number) => number,
): Motion {
  const { interceptPixels, slopePixelsPerFrame } = track.line;
  const onLine = (timeFrames: number) => interceptPixels + slopePixelsPerFrame * timeFrames;
  const rowTimeFrames = (settings.rowTimeSeconds ?? 0) * settings.rateHz.value;
  const timed = settings.rowTimeSeconds === null ? track : withRows(track, path, rowTimeFrames);
  const readAt = (timeFrames: number, positionPixels: number) =>
    timeFrames + rowTimeFrames * (path[0][1] + rowsPerPixel(path) * positionPixels);
  if (settings.model === null || settings.model === "constant")
    return { track: timed, fit: null, warnings, straightAt: onLine, readAt, fittedAt: onLine };
  const used = track.positions.filter((position) => position.used);
  const sign = Math.sign(slopePixelsPerFrame);
  const origin = sign > 0 ? 0 : straight(lengthOf(path));
  const fit = determined(settings.model, () =>
    fitMotion(
      used.map(({ frame, timeFrames, positionPixels }) => readAt(timeFrames ?? frame, positionPixels)),
      used.map(({ positionPixels }) => origin + sign * straight(positionPixels)),
      {
        model: settings.model ?? "auto",
        standardUncertainty: used.map(({ standardUncertaintyPixels }) => standardUncertaintyPixels),
      },
    ),
  );
  const moved = { track: withModel(timed, fit, sign), fit, warnings: warningsOf(fit, warnings), readAt };
  if (fit.model.name === "constant") return { ...moved, straightAt: onLine, fittedAt: onLine };
  const straightAt = (time: number) => sign * (fit.model.positionAt(time) - origin);
  return { ...moved, straightAt, fittedAt: (time, at) => straightAt(readAt(time, at)) };
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

function lengthOf([[x1, y1], [x2, y2]]: Streak["path"]): number {
  return Math.hypot(x2 - x1, y2 - y1);
}

function rowsPerPixel(path: Streak["path"]): number {
  return (path[1][1] - path[0][1]) / lengthOf(path);
}

function withRows(track: FrontTrack, path: Streak["path"], rowTimeFrames: number): FrontTrack {
  const { line } = track;
  try {
    const { slope, derivative } = withRowTime(line.slopePixelsPerFrame, rowTimeFrames, rowsPerPixel(path));
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
