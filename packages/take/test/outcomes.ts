import type { Streak, TrackOutcome } from "@frontpace/tracker";
import type { FramesUsed } from "../src/result/take-as-used.js";
import type { Settings } from "../src/settings/settle.js";

/** Test doubles: outcomes written by hand, not seen by any tracker. */
export const streak: Streak = {
  data: new Float64Array(8).fill(1),
  shape: [2, 4],
  frameNumbers: [0, 1],
  path: [
    [0, 3],
    [3, 3],
  ],
  width: 2,
  effectiveRows: null,
};

export const tracked: Extract<TrackOutcome, { status: "tracked" }> = {
  status: "tracked",
  fronts: [],
  alternatives: [],
  track: {
    positions: [0, 1, 2, 3].map((frame) => ({
      frame,
      positionPixels: 5 + 2 * frame,
      standardUncertaintyPixels: 0.1,
      residualPixels: frame === 3 ? 1.5 : 0,
      used: frame !== 3,
    })),
    line: {
      interceptPixels: 5,
      slopePixelsPerFrame: 2,
      standardUncertaintyPixelsPerFrame: 0.02,
      degreesOfFreedom: 40,
      wanderShare: 0.25,
      contributions: {
        frontDefinition: { notEvaluated: "by hand" },
        timeBase: { notEvaluated: "by hand" },
        motion: { notEvaluated: "by hand" },
        modelChoice: { notEvaluated: "by hand" },
      },
    },
    channel: "brightness",
    shape: "step",
    polarity: "bright",
    direction: [1, 0],
    tilt: null,
    look: { edgeBlurPixels: 1.2, stepToNoise: 20 },
    firstFrame: 0,
    lastFrame: 3,
  },
  streak,
  warnings: [{ code: "few-frames", message: "three frames" }],
};

export const crossed: TrackOutcome = {
  status: "crossed",
  lastFrameBefore: 4,
  firstFrameAfter: 5,
  lengthPixels: 100,
  polarity: "bright",
  streak,
  warnings: [],
};

export const notFound: TrackOutcome = {
  status: "not-found",
  reason: "no-change",
  message: "no position changed",
  streak,
  warnings: [],
};

export const settings: Settings = {
  rateHz: { value: 1e5, standardUncertainty: 0 },
  metresPerPixel: { value: 2e-4, standardUncertainty: 2e-6 },
  calibration: null,
  exposureSeconds: null,
  lightPulseSeconds: null,
  path: null,
  width: null,
  polarity: null,
  front: null,
  model: null,
  startTimeSeconds: null,
  airTemperatureKelvin: null,
  distanceMetres: null,
  rowTimeSeconds: null,
  timestamps: null,
  origin: null,
  cell: null,
  map: false,
  firstFrame: null,
  lastFrame: null,
  frameStep: null,
  skipBad: false,
  transfer: null,
  raw: null,
  material: null,
  stated: ["metresPerPixel", "rateHz"],
};

export const frames: FramesUsed = {
  name: "tile",
  numbers: [0, 1, 2, 3],
  rows: 8,
  columns: 16,
  bitDepth: 8,
  hash: "00",
  part: null,
  warnings: [{ code: "ignored-files", message: "one file ignored" }],
};

/** Equality but for rounding: a few operations on doubles, each good to 1.1e-16. */
export function relativeDifference(value: number, expected: number): number {
  return Math.abs(value - expected) / Math.abs(expected);
}
