import * as z from "zod";
import { notNegative, point, positive } from "./schema-numbers.js";

const line = z.strictObject({
  check: z.enum(["focus", "exposure", "noise", "light", "frames", "pattern", "drift", "mode", "clock"]),
  verdict: z.enum(["pass", "warn", "not-checked"]),
  message: z.string(),
  advice: z.string().nullable().meta({ description: "what to change; null: nothing" }),
  values: z.record(z.string(), z.number().nullable()).meta({ description: "null: not told" }),
});

/** check.json, version 1. */
export const checkSchema = z
  .strictObject({
    format: z.literal("frontpace-check"),
    version: z.literal(1),
    program: z.strictObject({ name: z.literal("frontpace"), version: z.string() }),
    passed: z.boolean().meta({ description: "whether no line warns" }),
    lines: z.array(line),
    clock: z
      .strictObject({
        rateHz: positive,
        rateUncertaintyHz: notNegative
          .nullable()
          .meta({ description: "null: that of the lamp was not stated" }),
        readingUncertaintyHz: notNegative,
        degreesOfFreedom: positive,
        lampHz: positive,
        lampUncertaintyHz: notNegative.nullable(),
        frames: z.number().int().min(1),
      })
      .nullable()
      .meta({
        description:
          "the recording rate by a lamp of known frequency, one standard uncertainty; null: none seen",
      }),
    take: z.strictObject({
      name: z.string(),
      rows: z.number().int().min(1),
      columns: z.number().int().min(1),
      bitDepth: z.number().int(),
      frames: z.number().int().min(1).meta({ description: "looked at" }),
      firstFrame: z.number().int(),
      lastFrame: z.number().int(),
      rateHz: positive.nullable(),
      exposureSeconds: positive.nullable(),
      path: z.tuple([point, point]).meta({ description: "along which was looked, px" }),
      width: notNegative,
    }),
    reference: z
      .strictObject({ file: z.string(), frame: z.number().int(), sha256: z.string() })
      .nullable()
      .meta({
        description: "the still that is kept beside this file; null: the frames were not opened from a file",
      }),
    warnings: z.array(z.strictObject({ code: z.string(), message: z.string() })),
    cautions: z.array(z.string()),
  })
  .meta({ title: "frontpace check", description: "What a dry check of a still or a take showed. SI units." });
