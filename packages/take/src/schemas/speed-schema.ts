import * as z from "zod";
import { notNegative, positive, whole } from "./schema-numbers.js";

const inputName = z.enum(["rate", "scale"]);
const degreesOfFreedom = positive.nullable().meta({ description: "null: infinite" });

const budgetLine = z.strictObject({
  source: z.string().meta({
    description:
      "fit and wander are shares of one estimate: they count once in the degrees of freedom of the speed",
  }),
  type: z.enum(["A", "B"]),
  standardUncertainty: notNegative.meta({ description: "contribution to the speed, m/s" }),
  degreesOfFreedom,
  relative: notNegative.meta({ description: "standardUncertainty / speed" }).exactOptional(),
});

const notEvaluated = z
  .array(z.strictObject({ source: z.string(), reason: z.string() }))
  .meta({ description: "effects that no line of the budget holds, and why" });

export const speedSchema = z
  .strictObject({
    value: notNegative,
    standardUncertainty: notNegative,
    expandedUncertainty: notNegative,
    coverageFactor: positive,
    coverageProbability: z.literal(0.95),
    degreesOfFreedom,
    complete: z.boolean().meta({ description: "false: the interval is of the reading only" }),
    missing: z.array(inputName).meta({ description: "inputs whose uncertainty was not stated" }),
    budget: z.array(budgetLine),
    notEvaluated: notEvaluated.exactOptional(),
  })
  .meta({ description: "m/s; a budget by JCGM 100:2008" });

export const lowerBoundSchema = z
  .strictObject({
    value: positive,
    confidence: z.literal(0.95),
    complete: z.boolean().meta({ description: "false: the bound is of the reading only" }),
    missing: z.array(inputName).meta({ description: "inputs whose uncertainty was not stated" }),
    lastFrameBefore: whole,
    firstFrameAfter: whole,
    lengthPixels: positive,
  })
  .meta({ description: "at least this fast, m/s" });
