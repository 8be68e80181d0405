import * as z from "zod";
import { finite, notNegative, positive } from "./schema-numbers.js";

const ends = z.strictObject({ low: finite, high: finite });

const comparedQuantity = z.strictObject({
  quantity: z.enum([
    "columns",
    "rows",
    "rateHz",
    "exposureSeconds",
    "metresPerPixel",
    "speed",
    "framesAcross",
    "pixelsPerFrame",
    "blurPixels",
    "stepToNoise",
    "relativeUncertainty",
  ]),
  label: z.string().exactOptional().meta({
    description: 'what both values of a predicted uncertainty hold, for example "image noise only"',
  }),
  planned: ends.nullable().meta({ description: "null: the plan does not say" }),
  observed: finite.nullable().meta({ description: "null: the take does not say" }),
  verdict: z.enum(["held", "exceeded", "fell-short", "not-known"]),
  beyondUncertainty: z.boolean().nullable(),
  holds: z.boolean().meta({ description: "false: what differs is to the take's disadvantage" }),
  reason: z.string(),
  next: z.string().nullable().meta({ description: "what to set for the next take" }),
});

export const comparisonSchema = z
  .strictObject({
    held: z.boolean(),
    quantities: z.array(comparedQuantity).readonly(),
    lowestRateHz: positive
      .nullable()
      .meta({ description: "where the front was too fast to follow: the lowest rate that would measure it" }),
  })
  .exactOptional()
  .meta({ description: "the plan against what was observed" });

export const materialSchema = z
  .strictObject({
    name: z.string(),
    rayleighSpeed: positive.meta({ description: "m/s" }),
    shareOfRayleigh: notNegative.nullable().meta({ description: "of the speed, or of its lower bound" }),
    source: z.string(),
    status: z.enum(["read", "secondary", "memory"]).meta({ description: "of the elastic constants" }),
  })
  .exactOptional()
  .meta({ description: "the speed against the waves of what cracked" });
