import type { ReportedResult } from "../src/index.js";

/** Invented results, written by hand: no take was measured. */
const head = { program: { name: "frontpace", version: "0.0.0" }, warnings: [] };

const take: ReportedResult["take"] = {
  name: "invented tile",
  frames: 5,
  firstFrame: 0,
  lastFrame: 4,
  rows: 4,
  columns: 8,
  bitDepth: 8,
  rateHz: 1e5,
  rateUncertaintyHz: 0,
  exposureSeconds: 2e-6,
  metresPerPixel: 2e-4,
  metresPerPixelUncertainty: 1e-6,
  path: [
    [0, 1.5],
    [7, 1.5],
  ],
  width: 4,
  polarity: null,
  frameStep: null,
  framesHash: "0123456789abcdef",
  stated: ["metresPerPixel", "rateHz", "width"],
};

const frame = [0, 1, 2, 3, 4];
const line = (at: number) => 1e-4 + 4e-4 * at;

export const measured: ReportedResult = {
  ...head,
  status: "measured",
  speed: {
    value: 40.1,
    standardUncertainty: 0.5,
    expandedUncertainty: 1,
    coverageFactor: 2,
    coverageProbability: 0.95,
    degreesOfFreedom: null,
    complete: true,
    missing: [],
    budget: [
      { source: "fit", type: "A", standardUncertainty: 0.3, degreesOfFreedom: 3, relative: 0.0075 },
      { source: "scale", type: "B", standardUncertainty: 0.4, degreesOfFreedom: null, relative: 0.01 },
      { source: "rate", type: "B", standardUncertainty: 0, degreesOfFreedom: null, relative: 0 },
    ],
    notEvaluated: [{ source: "lens", reason: "the distortion is not known" }],
  },
  lowerBound: null,
  notFound: null,
  front: {
    measurand: "mid-level of the change",
    firstFrame: 0,
    lastFrame: 4,
    framesUsed: 5,
    direction: [1, 0],
    polarity: "bright",
  },
  model: { name: "constant", parameters: {} },
  take,
  track: {
    frame,
    timeSeconds: frame.map((number) => number / 1e5),
    positionPixels: frame.map((number) => line(number) / 2e-4),
    positionMetres: frame.map(line),
    standardUncertaintyMetres: frame.map(() => 1e-6),
    fittedPixels: frame.map((number) => line(number) / 2e-4),
    fittedMetres: frame.map(line),
    residualMetres: frame.map((number) => (number % 2 === 0 ? 1e-6 : -1e-6)),
    used: frame.map((number) => number !== 3),
  },
  streak: { channel: "brightness", firstFrame: 0, lastFrame: 4, frameStep: 1, lengthPixels: 7, samples: 8 },
  event: [
    { moment: "before", frame: 0, fronts: [] },
    {
      moment: "middle",
      frame: 2,
      fronts: [
        {
          kind: "line",
          points: [
            [4.5, -0.5],
            [4.5, 3.5],
          ],
        },
      ],
    },
    { moment: "after", frame: 4, fronts: [{ kind: "circle", centre: [2, 2], radius: 5 }] },
  ],
};

const nothing = { speed: null, front: null, model: null, take, event: measured.event ?? [] } as const;

export const bounded: ReportedResult = {
  ...head,
  ...nothing,
  status: "bounded",
  lowerBound: {
    value: 1239.9,
    confidence: 0.95,
    complete: false,
    missing: ["scale"],
    lastFrameBefore: 1,
    firstFrameAfter: 2,
    lengthPixels: 95.4,
  },
  notFound: null,
};

export const notFound: ReportedResult = {
  ...head,
  ...nothing,
  status: "not-found",
  lowerBound: null,
  notFound: { reason: "no-change", message: "no position changed by more than the noise" },
  warnings: [{ code: "no-change", message: "no position changed by more than the noise" }],
};
