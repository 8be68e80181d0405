import * as z from "zod";
import { eventSchema, searchedSchema } from "./events-schema.js";

const finite = z.number();
const positive = z.number().positive();
const notNegative = z.number().min(0);
const whole = z.number().int();
const point = z.tuple([finite, finite]);
const polarity = z.enum(["bright", "dark"]);
const inputName = z.enum(["rate", "scale"]);
const degreesOfFreedom = positive.nullable().meta({ description: "null: infinite" });

const warning = z.strictObject({ code: z.string(), message: z.string() });

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

const speed = z
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

const lowerBound = z
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

const tilt = z
  .strictObject({ degrees: finite, standardUncertainty: notNegative, normalSpeed: notNegative })
  .meta({
    description: "angle between the front's normal and the path, degrees; speed along the normal, m/s",
  });

const front = z.strictObject({
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
const model = z.strictObject({
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
const fronts = z.array(frontLine).exactOptional().meta({
  description: "where there are several fronts on the path: all, in the order in which they are first seen",
});
const alternatives = z.array(frontLine).exactOptional().meta({
  description: "other lines on which the same front may be read",
});

const calibration = z
  .strictObject({
    method: z.enum(["lengths", "points", "corners", "dots"]),
    planeMap: z.boolean(),
    lens: z.boolean(),
    pathMetres: positive.meta({ description: "length of the whole path in the plane, m" }),
    leastMetresPerPixel: positive,
    greatestMetresPerPixel: positive,
    singleScaleError: finite.meta({
      description: "by how much the calibration's single scale would be wrong on the whole path, relative",
    }),
    assumed: z.array(z.string()),
    sensorOffset: point.exactOptional(),
    binning: z.number().min(1).exactOptional(),
    medium: z.string(),
  })
  .meta({ description: "where the scale comes from; metresPerPixel is then the mean along the path" });

const take = z
  .strictObject({
    name: z.string(),
    frames: whole.min(0),
    firstFrame: whole,
    lastFrame: whole,
    rows: whole.positive(),
    columns: whole.positive(),
    bitDepth: whole.positive(),
    rateHz: positive,
    rateUncertaintyHz: notNegative.nullable(),
    exposureSeconds: positive.nullable(),
    lightPulseSeconds: positive.exactOptional(),
    metresPerPixel: positive,
    metresPerPixelUncertainty: notNegative.nullable(),
    calibration: calibration.exactOptional(),
    path: z.tuple([point, point]),
    width: z.number().min(1),
    effectiveRows: z.number().min(1).exactOptional().meta({
      description: "what the rows of the width are worth in rows of independent noise; absent: not told",
    }),
    polarity: polarity.nullable().meta({ description: "as asked for; null: found by the program" }),
    front: whole.min(1).exactOptional().meta({ description: "which of several fronts was asked for" }),
    model: z.string().exactOptional().meta({ description: "as asked for; absent: a constant speed" }),
    rowTimeSeconds: notNegative.exactOptional(),
    timestamps: z
      .literal(true)
      .exactOptional()
      .meta({ description: "a table of times was used in place of number/rate" }),
    frameStep: whole.min(1).nullable().meta({ description: "null: not declared" }),
    skipBad: z.literal(true).exactOptional(),
    transfer: z
      .enum(["linear", "srgb", "bt709"])
      .exactOptional()
      .meta({ description: "absent: not declared" }),
    raw: z.string().exactOptional().meta({ description: "how samples without a header were read" }),
    framesHash: z.string().meta({
      description:
        "SHA-256 over each frame used: its number as a signed 64-bit big-endian integer, then the samples of the part that was read, row by row; over none where none was measured",
    }),
    planHash: z.string().exactOptional().meta({ description: "digest of the plan it was measured with" }),
  })
  .meta({ description: "the take as used" });

const search = z
  .strictObject({
    frames: whole.min(0).meta({ description: "frames of the take that was searched" }),
    framesRead: whole.min(0),
    events: z.array(eventSchema).meta({ description: "strongest first; the first was measured" }),
    ...searchedSchema,
  })
  .exactOptional()
  .meta({ description: "how the frames used were found in a long take; absent: it was not searched" });

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
  planned: ends.nullable().meta({ description: "null: the plan does not say" }),
  observed: finite.nullable().meta({ description: "null: the take does not say" }),
  verdict: z.enum(["held", "exceeded", "fell-short", "not-known"]),
  beyondUncertainty: z.boolean().nullable(),
  holds: z.boolean().meta({ description: "false: what differs is to the take's disadvantage" }),
  reason: z.string(),
  next: z.string().nullable().meta({ description: "what to set for the next take" }),
});
const comparison = z
  .strictObject({
    held: z.boolean(),
    quantities: z.array(comparedQuantity).readonly(),
    lowestRateHz: positive
      .nullable()
      .meta({ description: "where the front was too fast to follow: the lowest rate that would measure it" }),
  })
  .exactOptional()
  .meta({ description: "the plan against what was observed" });
const material = z
  .strictObject({
    name: z.string(),
    rayleighSpeed: positive.meta({ description: "m/s" }),
    shareOfRayleigh: notNegative.nullable().meta({ description: "of the speed, or of its lower bound" }),
    source: z.string(),
    status: z.enum(["read", "secondary", "memory"]).meta({ description: "of the elastic constants" }),
  })
  .exactOptional()
  .meta({ description: "the speed against the waves of what cracked" });

const found = z.strictObject({ value: finite, standardUncertainty: notNegative.nullable() });
const shape = z
  .strictObject({
    name: z
      .enum(["straight", "circle", "none", "no-front"])
      .meta({ description: "none: a front, but of neither shape; no-front: nothing that runs" }),
    reason: z.string(),
    measuredAlong: z
      .enum(["path", "radius", "rows-or-columns"])
      .meta({ description: "path: across the straight front; radius: the path is one of the rays read" }),
    cells: whole.min(0).meta({ description: "cells of the picture that show an arrival" }),
    shareOfPicture: notNegative,
    effectiveCells: notNegative.meta({ description: "how many independent cells they are worth" }),
    candidates: z
      .array(
        z.strictObject({
          name: z.string(),
          parameters: whole.min(1),
          aicc: finite.meta({
            description: "Akaike's criterion, corrected for few cells; smaller is better",
          }),
          residualFrames: notNegative,
          explained: notNegative.meta({ description: "share of the spread of the arrivals" }),
        }),
      )
      .meta({ description: "every model that was held against the arrivals" }),
    straight: z
      .strictObject({ speed: found, angleDegrees: found })
      .nullable()
      .meta({ description: "by the arrivals alone: across the front, m/s; from x towards y (down)" }),
    circle: z
      .strictObject({
        origin: point,
        originUncertainty: z.tuple([notNegative.nullable(), notNegative.nullable()]).nullable(),
        originGiven: z.boolean(),
        speed: found,
      })
      .nullable()
      .meta({ description: "by the arrivals alone: origin in px, speed along the radius, m/s" }),
  })
  .exactOptional()
  .meta({
    description: "the shape of the front by its arrival map; absent: a path was given, or no map was made",
  });

const head = {
  format: z.literal("frontpace-result"),
  version: z.literal(1),
  program: z.strictObject({ name: z.literal("frontpace"), version: z.string() }),
};

const measured = z.strictObject({
  ...head,
  status: z.literal("measured"),
  speed,
  lowerBound: z.null(),
  front,
  fronts,
  alternatives,
  model,
  take,
  search,
  notFound: z.null(),
  comparison,
  material,
  shape,
  warnings: z.array(warning),
});

const bounded = z.strictObject({
  ...head,
  status: z.literal("bounded"),
  speed: z.null(),
  lowerBound,
  front: z.null(),
  model: z.null(),
  take,
  search,
  notFound: z.null(),
  comparison,
  material,
  shape,
  warnings: z.array(warning),
});

const notFound = z.strictObject({
  ...head,
  status: z.literal("not-found"),
  speed: z.null(),
  lowerBound: z.null(),
  front: z.null(),
  fronts,
  model: z.null(),
  take,
  search,
  notFound: z.strictObject({ reason: z.string(), message: z.string() }),
  comparison,
  material,
  shape,
  warnings: z.array(warning),
});

/** result.json, version 1: one shape for each outcome. */
export const resultSchema = z
  .discriminatedUnion("status", [measured, bounded, notFound])
  .meta({ title: "frontpace result", description: "The outcome of measuring one take. SI units." });
