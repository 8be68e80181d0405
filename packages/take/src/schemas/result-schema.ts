import * as z from "zod";
import { branchesSchema } from "./branch-schema.js";
import { comparisonSchema, materialSchema } from "./comparison-schema.js";
import { eventSchema, searchedSchema } from "./events-schema.js";
import { eventFramesSchema, speedAlongSchema, streakSchema, trackSchema } from "./evidence-schema.js";
import { alternativesSchema, frontSchema, frontsSchema, modelSchema } from "./front-schema.js";
import { mapSchema } from "./map-schema.js";
import { notNegative, positive, whole } from "./schema-numbers.js";
import { shapeSchema } from "./shape-schema.js";
import { lowerBoundSchema, speedSchema } from "./speed-schema.js";
import { takeUsedSchema } from "./take-used-schema.js";

const warning = z.strictObject({ code: z.string(), message: z.string() });

const search = z
  .strictObject({
    frames: whole.min(0).meta({ description: "frames of the take that was searched" }),
    framesRead: whole.min(0),
    events: z.array(eventSchema).meta({ description: "strongest first; the first was measured" }),
    ...searchedSchema,
  })
  .exactOptional()
  .meta({ description: "how the frames used were found in a take that was searched; absent: it was not" });

const airSchema = z
  .strictObject({
    soundSpeed: positive.meta({ description: "m/s" }),
    soundSpeedUncertainty: notNegative.nullable(),
    mach: notNegative.nullable().meta({ description: "of the speed, or at least, of its lower bound" }),
    machUncertainty: notNegative.nullable().meta({ description: "null: one of its inputs has none stated" }),
    source: z.string(),
  })
  .exactOptional()
  .meta({ description: "the air that a shock runs in; absent: no temperature was given" });

const head = {
  format: z.literal("frontpace-result"),
  version: z.literal(1),
  program: z.strictObject({ name: z.literal("frontpace"), version: z.string() }),
};

/** What was learnt besides the speed, where it was. */
const besides = {
  comparison: comparisonSchema,
  material: materialSchema,
  air: airSchema,
  shape: shapeSchema,
  branches: branchesSchema,
  map: mapSchema,
};

const evidence = {
  streak: streakSchema,
  event: eventFramesSchema,
  warnings: z.array(warning),
};

const measured = z.strictObject({
  ...head,
  status: z.literal("measured"),
  speed: speedSchema,
  lowerBound: z.null(),
  front: frontSchema,
  fronts: frontsSchema,
  alternatives: alternativesSchema,
  model: modelSchema,
  take: takeUsedSchema,
  search,
  notFound: z.null(),
  ...besides,
  track: trackSchema,
  speedAlong: speedAlongSchema,
  ...evidence,
});

const bounded = z.strictObject({
  ...head,
  status: z.literal("bounded"),
  speed: z.null(),
  lowerBound: lowerBoundSchema,
  front: z.null(),
  model: z.null(),
  take: takeUsedSchema,
  search,
  notFound: z.null(),
  ...besides,
  ...evidence,
});

const notFound = z.strictObject({
  ...head,
  status: z.literal("not-found"),
  speed: z.null(),
  lowerBound: z.null(),
  front: z.null(),
  fronts: frontsSchema,
  model: z.null(),
  take: takeUsedSchema,
  search,
  notFound: z.strictObject({ reason: z.string(), message: z.string() }),
  ...besides,
  ...evidence,
});

/** result.json, version 1: one shape for each outcome. */
export const resultSchema = z
  .discriminatedUnion("status", [measured, bounded, notFound])
  .meta({ title: "frontpace result", description: "The outcome of measuring one take. SI units." });
