import { chooseExposure } from "./choose-exposure.js";
import { mainsFlicker } from "./mains-flicker.js";
import type { RecordingMode } from "./mode-types.js";
import type { ModeDetails, ModeFigures } from "./plan-types.js";
import { playbackSeconds } from "./playback.js";
import { speedUncertainty } from "./predict-uncertainty.js";
import { recordLength } from "./record-length.js";
import type { PlanRequest } from "./request-types.js";
import { triggerShare } from "./trigger-share.js";

/** What a mode would give, before it is judged. */
export interface ExpectedMode {
  readonly figures: ModeFigures;
  readonly details: ModeDetails;
  readonly minExposureSeconds: number | null;
  /** Side of the picture that the front runs along, px. */
  readonly side: number;
  /** Uncertainty of the speed by image noise, but with a step to noise of 1 at 1 s where none is known: ranks modes, and is no
   *  prediction. */
  readonly rankingUncertainty: number;
}

/** Figures of one mode. @throws PlannerError `bits-missing` */
export function expectMode(mode: RecordingMode, request: PlanRequest): ExpectedMode {
  const { speedMetresPerSecond: speed, lengthMetres, along = "columns", playbackHz } = request;
  const side = mode[along];
  const metresPerPixel = request.metresPerPixel ?? lengthMetres / side;
  const lengthPixels = lengthMetres / metresPerPixel;
  const { rateHz } = mode;
  const framesAcross = (lengthMetres / speed.high) * rateHz;
  const exposureSeconds = chooseExposure(mode, request, speed.high / metresPerPixel);
  const blurMetres = speed.high * exposureSeconds;
  const eventSeconds = lengthMetres / speed.low;
  const record = recordLength(mode, request);
  const light = relativeExposure(exposureSeconds, request);
  const stepToNoise =
    light === null || request.stepToNoise === undefined
      ? null
      : request.stepToNoise * noiseGain(light, request);
  const across = along === "columns" ? mode.rows : mode.columns;
  const ofNoise = speedUncertainty({
    framesAcross,
    pixelsPerFrame: lengthPixels / framesAcross,
    motionBlurPixels: blurMetres / metresPerPixel,
    edgeBlurPixels: request.edgeBlurPixels ?? 1,
    stepToNoise: stepToNoise ?? noiseGain(exposureSeconds, request),
    rowsAveraged: Math.min(request.widthPixels ?? 15, across),
  });
  const { relativeWander, relativeScale, relativeRate } = request.earlier ?? {};
  const predicted =
    ofNoise === null ? null : Math.hypot(ofNoise, relativeWander ?? 0, relativeScale ?? 0, relativeRate ?? 0);
  const figures = {
    columns: mode.columns,
    rows: mode.rows,
    rateHz,
    metresPerPixel,
    framesAcross,
    pixelsPerFrame: lengthPixels / framesAcross,
    blurPixels: blurMetres / metresPerPixel,
    exposureSeconds,
    stopsLost: light === null ? null : -Math.log2(light) + 0,
    recordSeconds: record?.seconds ?? null,
    playbackSeconds: record && playbackHz !== undefined ? playbackSeconds(record.frames, playbackHz) : null,
    predictedRelativeUncertainty: stepToNoise === null ? null : predicted,
  };
  const details = {
    bits: mode.bits,
    blurMetres,
    stepMetres: speed.high / rateHz,
    eventSeconds,
    eventPlaybackSeconds:
      playbackHz === undefined ? null : playbackSeconds(eventSeconds * rateHz, playbackHz),
    recordFrames: record?.frames ?? null,
    eventShare: record && record.seconds > 0 ? eventSeconds / record.seconds : null,
    triggerShare:
      record && request.reactionSeconds !== undefined
        ? triggerShare(record.seconds, eventSeconds, request.reactionSeconds)
        : null,
    stepToNoise,
    mains: (request.mainsHz === undefined ? [50, 60] : [request.mainsHz]).map((mainsHz) =>
      mainsFlicker(mainsHz, rateHz, exposureSeconds, eventSeconds),
    ),
    interpolation: mode.interpolation,
  };
  const rankingUncertainty = ofNoise ?? Number.POSITIVE_INFINITY;
  return { figures, details, minExposureSeconds: mode.minExposureSeconds, side, rankingUncertainty };
}

/** Light collected against that of the good exposure; null without one. */
function relativeExposure(
  exposureSeconds: number,
  { goodExposureSeconds, relativeLight = 1 }: PlanRequest,
): number | null {
  return goodExposureSeconds === undefined ? null : (exposureSeconds * relativeLight) / goodExposureSeconds;
}

/** What so many times the light make of the step to noise. */
function noiseGain(light: number, { noise = "shot" }: PlanRequest): number {
  return noise === "read" ? light : Math.sqrt(light);
}
