import { lowerBoundSchema, speedSchema } from "@frontpace/take/speed-schema";
import * as z from "zod";

const positive = z.number().positive();
const notNegative = z.number().min(0);
const name = z.string().min(1);
const said = z.strictObject({ code: z.string(), message: z.string() });

const speed = speedSchema.omit({ budget: true, notEvaluated: true });

const take = z.strictObject({
  take: name.meta({ description: "below the folder that was searched; a dot for that folder itself" }),
  status: z.enum(["measured", "bounded", "not-found", "failed"]),
  result: name.nullable().meta({ description: "its result.json, relative to this file" }),
  measurand: z.string().nullable(),
  speed: speed.nullable().meta({ description: "m/s" }),
  lowerBound: lowerBoundSchema
    .pick({ value: true, confidence: true, complete: true, missing: true })
    .nullable()
    .meta({ description: "m/s" }),
  notFound: z.strictObject({ reason: z.string(), message: z.string() }).nullable(),
  error: said.nullable(),
  warnings: z.array(said),
  framesHash: z.string().nullable(),
  sameEventAs: name.nullable().meta({
    description:
      "the take of its folder whose event its frames show, too, and which counts in its place in the mean",
  }),
});

const repeats = z
  .strictObject({
    folder: name,
    measurand: z.string(),
    takes: z.array(name).min(2),
    mean: speed.meta({ description: "m/s; of the mean of the takes" }),
    ownUncertainties: z
      .array(positive)
      .meta({ description: "m/s; standard, of each take, without what takes share" }),
    withinTakeStandardDeviation: positive.meta({
      description: "m/s; of one take by its own budget, without what takes share: root mean square",
    }),
    betweenTakeStandardDeviation: notNegative.meta({
      description:
        "m/s; from take to take beyond that; 0: the takes differ by no more than their budgets explain",
    }),
    intermediatePrecision: positive.meta({
      description: "m/s; standard deviation of within and between together",
    }),
    shared: z
      .array(z.strictObject({ source: z.string(), standardUncertainty: notNegative }))
      .meta({ description: "m/s; what takes share, which their number does not shrink" }),
    chance: notNegative.meta({
      description: "share of cases in which takes would differ so much or more by their own budgets alone",
    }),
    disagreeing: z
      .array(name)
      .meta({ description: "takes that differ from the others by more than these scatter" }),
  })
  .meta({ description: "the measured takes of one folder, as repeats of one event" });

/** summary.json, version 1. */
export const summarySchema = z
  .strictObject({
    format: z.literal("frontpace-summary"),
    version: z.literal(1),
    program: z.strictObject({ name: z.literal("frontpace"), version: z.string() }),
    counts: z.strictObject({
      takes: z.number().int().min(0),
      measured: z.number().int().min(0),
      bounded: z.number().int().min(0),
      notFound: z.number().int().min(0),
      failed: z.number().int().min(0),
    }),
    takes: z.array(take),
    repeats: z.array(repeats),
  })
  .meta({ title: "frontpace summary", description: "What the takes below a folder gave. SI units." });
