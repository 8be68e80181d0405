import type { MotionModelName } from "@frontpace/fit";
import * as z from "zod";
import { point } from "./schema-numbers.js";

/** How a front may be said to move. */
export const MOTION = [
  "auto",
  "constant",
  "constant-acceleration",
  "accelerate-then-constant",
  "two-speeds",
  "terminal",
  "power-law",
  "decaying-shock",
] as const satisfies readonly ("auto" | MotionModelName)[];

/** What a value must be, by key: the text of the error and the description in the JSON Schema. */
export const takeRules = {
  format: '"frontpace-take"',
  version: "1, the version this program reads",
  rateHz: "a finite number > 0: recording rate, frames per second",
  rateUncertaintyHz: "a finite number >= 0: one standard uncertainty of rateHz; 0 states that it is exact",
  exposureSeconds: "a finite number > 0: time during which each frame collects light, s",
  lightPulseSeconds:
    "a finite number > 0, at most exposureSeconds: length of the light pulse within each frame, s; takes the place of the exposure",
  metresPerPixel: "a finite number > 0: length of one pixel in the plane of the front, m",
  metresPerPixelUncertainty:
    "a finite number >= 0: one standard uncertainty of metresPerPixel, m; 0 states that it is exact",
  calibration:
    "the name of a scale.json that frontpace calibrate wrote; in take.json relative to it; not together with metresPerPixel",
  sensorOffset:
    "two numbers [column, row] >= 0: sensor pixel in the top left corner of the frames, where the calibration is of another size",
  binning: "a number >= 1: sensor pixels to one of the frames, in either direction",
  medium: 'text: in which the event runs, as frontpace calibrate knows it, for example "air" or "water"',
  path: "two points [[x1, y1], [x2, y2]], px: the line along which the front is followed",
  width: "a finite number >= 1: width of the band averaged across the path, px",
  polarity: '"bright" or "dark": what the front leaves behind it',
  front:
    "a whole number >= 1: which of several fronts on the path, counted in the order in which they are first seen",
  model: `one of ${MOTION.map((name) => `"${name}"`).join(", ")}: how the front moves; auto takes the simplest that explains its positions`,
  startTimeSeconds:
    "a finite number, s on the clock of the frames: when a front of the model power-law started, before it is first seen; without it found",
  airTemperatureKelvin:
    "a finite number > 0, K: of the air that a shock runs in, taken as dry; the model decaying-shock needs it",
  airTemperatureUncertaintyKelvin:
    "a finite number >= 0, K: one standard uncertainty of airTemperatureKelvin; 0 states that it is exact",
  distanceMetres:
    "a finite number > 0, m: from the camera's lens to the centre of a sphere whose limb is seen as a circle; its radii are corrected by it",
  distanceUncertaintyMetres:
    "a finite number >= 0, m: one standard uncertainty of distanceMetres; 0 states that it is exact",
  rowTimeSeconds:
    "a finite number >= 0: time from the reading of one row to that of the next below it, s, on a rolling-shutter camera",
  timestamps:
    "the name of a CSV table frame,time (seconds); in take.json relative to it: times of the frames in place of number/rate",
  origin: "two numbers [x, y], px: where a circular front began, in the picture or outside",
  cell: "a whole number >= 1, px: edge of the cells in which the arrival of the front is timed",
  map: "true or false: whether the arrival map is kept, as arrays and pictures, also where the front was not followed by it",
  firstFrame: "a whole number: number of the first frame used, inclusive",
  lastFrame: "a whole number: number of the last frame used, inclusive",
  frameStep: "a whole number >= 1: every how many-th recorded frame was exported",
  skipBad: "true or false: whether damaged stills are left out as gaps in time",
  transfer:
    '"linear", "srgb" or "bt709": the curve the samples went through, undone before anything is averaged',
  raw: "COLUMNSxROWS:u8|u16le|u16be|f32le[@offset][+gap]: how grey samples without a header lie in the file; offset before the first frame and gap between two in bytes",
  plan: "the name of a file, relative to take.json: the plan.json that frontpace plan wrote for this take",
  material:
    "the name of a material of the physics table: what cracks, so that the speed can be held against its Rayleigh speed",
  copiedFrom:
    "text: the take that these frames were copied out of, as frontpace find writes it, relative to take.json; a batch does not count one event twice",
  notes: "text; not used",
} as const;

/** What the further options of a search must be. */
export const findRules = {
  ...takeRules,
  shortestFrames:
    "a whole number >= 1: what lasts at least so many frames and leaves nothing behind is caught",
  thorough: "true or false: whether what leaves nothing behind is looked for whatever it costs",
  region:
    "two opposite corners [[x1, y1], [x2, y2]] in whole px, both included: the part of the picture that is looked at",
} as const;

/** What the further options of a dry check must be. */
export const dryCheckRules = {
  ...takeRules,
  clockHz: "a finite number > 0: frequency of a lamp in the picture, Hz",
  clockUncertaintyHz: "a finite number >= 0: one standard uncertainty of clockHz; 0 states that it is exact",
  lamp: "two opposite corners [[x1, y1], [x2, y2]] in whole px, both included: the part of the picture that shows the lamp",
} as const;

/** Samples without a header, as `--raw` and the frame loader read it. */
const RAW_LAYOUT = /^[1-9]\d{0,8}x[1-9]\d{0,8}:(u8|u16le|u16be|f32le)(@\d{1,15})?(\+\d{1,15})?$/;

const number = (key: keyof typeof takeRules) => z.number({ error: takeRules[key] });
const positive = (key: keyof typeof takeRules) => number(key).positive();
const atLeast = (key: keyof typeof takeRules, minimum: number) => number(key).min(minimum);
const whole = (key: keyof typeof takeRules) => number(key).int();

/** A key that may be left out, with its rule as the description in the JSON Schema. */
function optional<T extends z.ZodType>(key: keyof typeof takeRules, schema: T) {
  return schema.meta({ description: takeRules[key] }).exactOptional();
}

const options = {
  rateHz: optional("rateHz", positive("rateHz")),
  rateUncertaintyHz: optional("rateUncertaintyHz", atLeast("rateUncertaintyHz", 0)),
  exposureSeconds: optional("exposureSeconds", positive("exposureSeconds")),
  lightPulseSeconds: optional("lightPulseSeconds", positive("lightPulseSeconds")),
  metresPerPixel: optional("metresPerPixel", positive("metresPerPixel")),
  metresPerPixelUncertainty: optional("metresPerPixelUncertainty", atLeast("metresPerPixelUncertainty", 0)),
  calibration: optional("calibration", z.string({ error: takeRules.calibration }).min(1)),
  sensorOffset: optional("sensorOffset", z.tuple([atLeast("sensorOffset", 0), atLeast("sensorOffset", 0)])),
  binning: optional("binning", atLeast("binning", 1)),
  medium: optional("medium", z.string({ error: takeRules.medium }).min(1)),
  path: optional("path", z.tuple([point, point])),
  width: optional("width", atLeast("width", 1)),
  polarity: optional("polarity", z.enum(["bright", "dark"])),
  front: optional("front", whole("front").min(1)),
  model: optional("model", z.enum(MOTION)),
  startTimeSeconds: optional("startTimeSeconds", number("startTimeSeconds")),
  airTemperatureKelvin: optional("airTemperatureKelvin", positive("airTemperatureKelvin")),
  airTemperatureUncertaintyKelvin: optional(
    "airTemperatureUncertaintyKelvin",
    atLeast("airTemperatureUncertaintyKelvin", 0),
  ),
  distanceMetres: optional("distanceMetres", positive("distanceMetres")),
  distanceUncertaintyMetres: optional("distanceUncertaintyMetres", atLeast("distanceUncertaintyMetres", 0)),
  rowTimeSeconds: optional("rowTimeSeconds", atLeast("rowTimeSeconds", 0)),
  timestamps: optional("timestamps", z.string({ error: takeRules.timestamps }).min(1)),
  origin: optional("origin", point),
  cell: optional("cell", whole("cell").min(1)),
  map: optional("map", z.boolean({ error: takeRules.map })),
  firstFrame: optional("firstFrame", whole("firstFrame")),
  lastFrame: optional("lastFrame", whole("lastFrame")),
  frameStep: optional("frameStep", whole("frameStep").min(1)),
  skipBad: optional("skipBad", z.boolean({ error: takeRules.skipBad })),
  transfer: optional("transfer", z.enum(["linear", "srgb", "bt709"])),
  plan: optional("plan", z.string({ error: takeRules.plan }).min(1)),
  material: optional("material", z.string({ error: takeRules.material }).min(1)),
  raw: optional("raw", z.string({ error: takeRules.raw }).regex(RAW_LAYOUT, { error: takeRules.raw })),
};

/** Options of a measurement: the keys of take.json that can change the number. */
export const measureOptionsSchema = z.strictObject(options);

const corner = z.tuple([z.number().int(), z.number().int()]);

/** Options of a search for events: the keys of take.json that open a take or bound what is looked at, and how it is
 *  looked for. */
export const findOptionsSchema = measureOptionsSchema
  .pick({
    rateHz: true,
    rateUncertaintyHz: true,
    path: true,
    width: true,
    firstFrame: true,
    lastFrame: true,
    frameStep: true,
    skipBad: true,
    transfer: true,
    raw: true,
  })
  .extend({
    shortestFrames: z.number().int().min(1).exactOptional(),
    thorough: z.boolean().exactOptional(),
    region: z.tuple([corner, corner]).exactOptional(),
  });

/** Options of a dry check: the keys of take.json that open a take or say how it was filmed, and the lamp. */
export const dryCheckOptionsSchema = measureOptionsSchema
  .pick({
    rateHz: true,
    rateUncertaintyHz: true,
    exposureSeconds: true,
    path: true,
    width: true,
    firstFrame: true,
    lastFrame: true,
    frameStep: true,
    skipBad: true,
    transfer: true,
    raw: true,
    plan: true,
  })
  .extend({
    clockHz: z.number({ error: dryCheckRules.clockHz }).positive().exactOptional(),
    clockUncertaintyHz: z.number({ error: dryCheckRules.clockUncertaintyHz }).min(0).exactOptional(),
    lamp: z.tuple([corner, corner]).exactOptional(),
  });

/** take.json, version 1. */
export const takeFileSchema = z
  .strictObject({
    format: z.literal("frontpace-take"),
    version: z.literal(1),
    ...options,
    copiedFrom: optional("copiedFrom", z.string({ error: takeRules.copiedFrom }).min(1)),
    notes: optional("notes", z.string()),
  })
  .meta({ title: "frontpace take", description: "What is known of one take, beside its frames. SI units." });
