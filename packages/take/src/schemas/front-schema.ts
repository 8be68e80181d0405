import * as z from "zod";
import { finite, notNegative, point, polarity, whole } from "./schema-numbers.js";

const tilt = z
  .strictObject({ degrees: finite, standardUncertainty: notNegative, normalSpeed: notNegative })
  .meta({
    description: "angle between the front's normal and the path, degrees; speed along the normal, m/s",
  });

export const frontSchema = z.strictObject({
  measurand: z.string(),
  firstFrame: whole,
  lastFrame: whole,
  framesUsed: whole.min(0),
  direction: point,
  polarity,
  channel: z.enum(["brightness", "departures"]).exactOptional().meta({
    description:
      "what shows the front: brightness averaged across the path, or the departures of single pixels from their levels before",
  }),
  tilt: tilt.exactOptional(),
  edgeBlurPixels: notNegative.exactOptional().meta({
    description:
      "standard deviation of the edge at rest, px: what is left of its width beside the exposure's smear",
  }),
  stepToNoise: notNegative.exactOptional().meta({
    description: "step of the front over the noise of a single pixel",
  }),
});

const parameter = z.strictObject({ value: finite, standardUncertainty: notNegative, unit: z.string() });

const tried = z
  .array(
    z.strictObject({
      name: z.string(),
      verdict: z.enum(["chosen", "as-good", "rejected", "not-determined"]),
      aiccAboveLeast: notNegative.nullable(),
      speed: finite.nullable().meta({ description: "at the middle of the observed range, m/s" }),
    }),
  )
  .meta({
    description:
      "models compared by Akaike's criterion for few data: within 2 of the least they are as good, and the simplest of these is chosen",
  });

export const modelSchema = z.strictObject({
  name: z.string(),
  parameters: z.record(z.string(), parameter),
  tried: tried.exactOptional(),
});

const frontLine = z.strictObject({
  speed: notNegative.meta({ description: "m/s, along the path" }),
  standardUncertainty: notNegative.meta({ description: "of the line alone, m/s" }),
  firstFrame: whole,
  lastFrame: whole,
  fromPixels: finite,
  toPixels: finite,
});

export const frontsSchema = z.array(frontLine).exactOptional().meta({
  description: "where there are several fronts on the path: all, in the order in which they are first seen",
});

export const alternativesSchema = z.array(frontLine).exactOptional().meta({
  description: "other lines on which the same front may be read",
});
