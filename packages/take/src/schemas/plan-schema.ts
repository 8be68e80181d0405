import * as z from "zod";
import { notNegative, positive } from "./schema-numbers.js";

const whole = z.number().int().min(1);

const rowTimeModel = z
  .strictObject({
    rowTimeSeconds: z.number(),
    overheadSeconds: z.number(),
    fittedRows: z.array(whole).readonly(),
    relativeResidual: notNegative.nullable().meta({ description: "null: two entries fix both parameters" }),
  })
  .meta({ description: "rate = 1 / (rows * rowTimeSeconds + overheadSeconds)" });

const shortfall = z.strictObject({
  limit: z.enum([
    "framesAcross",
    "blurPixels",
    "exposureSeconds",
    "stopsLost",
    "memory",
    "lengthMetres",
    "relativeUncertainty",
  ]),
  wanted: notNegative.meta({
    description:
      "the limit: what was asked for, or of the exposure what the mode allows; in the unit of its name, memory in s",
  }),
  needed: notNegative.meta({
    description: "what the mode gives instead: what the limit would have to be for this mode to meet it",
  }),
  factor: positive.meta({ description: "how far the limit is missed, > 1; stops count by powers of two" }),
  reason: z.string(),
});

const mains = z.strictObject({
  lampHz: positive,
  framesPerCycle: positive,
  largestVariation: notNegative.meta({
    description: "of the brightness over the event, of a lamp that goes dark, relative to its mean",
  }),
});

/** One recording mode against a wish, as planned. */
const plannedModeSchema = z
  .strictObject({
    columns: whole,
    rows: whole,
    rateHz: positive,
    metresPerPixel: positive,
    framesAcross: positive.meta({ description: "frame intervals during which the front is in the length" }),
    pixelsPerFrame: positive,
    blurPixels: notNegative.meta({ description: "way of the front during the exposure" }),
    exposureSeconds: positive,
    stopsLost: z.number().nullable().meta({ description: "against the good exposure; null: none known" }),
    recordSeconds: notNegative.nullable(),
    playbackSeconds: notNegative.nullable().meta({ description: "whole memory on the screen" }),
    predictedRelativeUncertainty: notNegative
      .nullable()
      .meta({ description: "standard uncertainty of the speed over the speed" }),
    meets: z.boolean(),
    reasons: z.array(z.string()).readonly(),
    bits: whole.nullable(),
    blurMetres: notNegative,
    stepMetres: positive.meta({ description: "way of the front from one frame to the next" }),
    eventSeconds: positive,
    eventPlaybackSeconds: notNegative.nullable(),
    recordFrames: z.number().int().min(0).nullable(),
    eventShare: notNegative.nullable().meta({ description: "part of the memory that the event fills" }),
    triggerShare: z
      .number()
      .min(0)
      .max(1)
      .nullable()
      .meta({ description: "part of the memory to be kept from before the trigger" }),
    stepToNoise: positive.nullable(),
    mains: z.array(mains).readonly(),
    interpolation: rowTimeModel.nullable().meta({ description: "null: the mode is listed" }),
    shortfalls: z.array(shortfall).readonly(),
  })
  .meta({ description: "figures for the fastest expected speed; the event lasts as at the slowest" });

const earlier = z.strictObject({
  name: z.string(),
  relativeWander: notNegative.nullable(),
  relativeScale: notNegative.nullable(),
  relativeRate: notNegative.nullable(),
});

/** What was asked for, as `planModes` takes it. */
const planRequestSchema = z.strictObject({
  speedMetresPerSecond: z.strictObject({ low: positive, high: positive }),
  lengthMetres: positive,
  along: z.enum(["columns", "rows"]).exactOptional(),
  metresPerPixel: positive.exactOptional(),
  framesAcross: z.number().min(3).exactOptional(),
  blurPixels: positive.exactOptional(),
  exposureSeconds: positive.exactOptional(),
  exposureFraction: positive.max(1).exactOptional(),
  memoryBytes: positive.exactOptional(),
  memorySeconds: positive.exactOptional(),
  reactionSeconds: notNegative.exactOptional(),
  playbackHz: positive.exactOptional(),
  goodExposureSeconds: positive.exactOptional(),
  relativeLight: positive.exactOptional(),
  stopsLost: notNegative.exactOptional(),
  stepToNoise: positive.exactOptional(),
  noise: z.enum(["shot", "read"]).exactOptional(),
  edgeBlurPixels: positive.exactOptional(),
  widthPixels: z.number().min(1).exactOptional(),
  relativeUncertainty: positive.exactOptional(),
  earlier: earlier.exactOptional(),
  mainsHz: z.union([z.literal(50), z.literal(60)]).exactOptional(),
});

/** plan.json, version 1. */
export const planSchema = z
  .strictObject({
    format: z.literal("frontpace-plan"),
    version: z.literal(1),
    program: z.strictObject({ name: z.literal("frontpace"), version: z.string() }),
    take: z.string().nullable().meta({ description: "name of the take that is planned; null: not named" }),
    material: z
      .strictObject({ name: z.string(), sources: z.array(z.string()).readonly() })
      .nullable()
      .meta({ description: "where the expected speed comes from; null: it was given" }),
    request: planRequestSchema,
    mode: plannedModeSchema,
    predictedFrom: z.array(z.string()).readonly(),
    cautions: z.array(z.string()).readonly(),
  })
  .meta({ title: "frontpace plan", description: "The recording mode chosen for a take. SI units." });
