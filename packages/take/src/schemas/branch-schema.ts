import * as z from "zod";
import { notNegative, point, positive, whole } from "./schema-numbers.js";

const branch = z.strictObject({
  parent: whole
    .min(1)
    .nullable()
    .meta({ description: "number of the branch from whose end it goes on; null: it starts by itself" }),
  start: point,
  end: point,
  lengthPixels: positive.meta({ description: "along its own course, as followed" }),
  firstFrame: whole.nullable(),
  lastFrame: whole.nullable(),
  speed: notNegative.nullable().meta({ description: "of its tip along its own course, m/s" }),
  standardUncertainty: notNegative.nullable(),
  expandedUncertainty: notNegative.nullable().meta({ description: "95 %" }),
  reason: z.string().nullable().meta({ description: "why it has no speed" }),
  warnings: z.array(z.string()).meta({ description: "codes" }),
});

/** Cracks that part: each with its own course. */
export const branchesSchema = z.array(branch).exactOptional().meta({
  description:
    "cracks that were followed along their own courses, numbered from 1 in the order in which they started; absent: none were looked for or seen",
});
