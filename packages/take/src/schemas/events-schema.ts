import * as z from "zod";
import { notNegative, whole } from "./schema-numbers.js";

const count = whole.min(0);

/** A stretch of the take in which the picture changes. */
export const eventSchema = z.strictObject({
  firstFrame: whole.meta({ description: "number of the first frame that differs from those before" }),
  lastFrame: whole.meta({
    description:
      "number of the last frame of the motion; passes: the last that differs from those after; stays: the first in which the change is complete",
  }),
  kind: z.enum(["stays", "passes"]).meta({ description: "whether the picture after it is as it was before" }),
  strength: notNegative.meta({
    description:
      "root of the sum of squares, over cells of the picture, of the greatest change in noise levels",
  }),
  certainty: z.enum(["bracketed", "bisected", "visible", "refined"]).exactOptional().meta({
    description:
      "at what stage of the search the ends are certain; bracketed: between two frames that were read; bisected: found by halving, where the change is half way, or amid what moves all the time; visible: frame by frame, but at one end so weakly, or so close to a change of the light or an end of the take, that it may be some frames off; refined: frame by frame",
  }),
});

const weakestSeenSchema = z
  .strictObject({
    strength: notNegative,
    brightness: notNegative,
    rows: whole.positive(),
    columns: whole.positive(),
  })
  .nullable()
  .meta({
    description:
      "the weakest event that would have been seen: so many units of brightness over an area of that size; null: too few frames to tell",
  });

const lightChangeSchema = z.strictObject({
  firstFrame: whole.meta({ description: "number of the first frame that differs" }),
  lastFrame: whole.meta({ description: "number of the first frame in which the change is complete" }),
  factor: z.number().meta({ description: "mean brightness of the picture behind over that before" }),
});

const writtenSchema = z.strictObject({
  row: whole.min(0),
  column: whole.min(0),
  rows: whole.positive(),
  columns: whole.positive(),
});

export const searchedSchema = {
  shortestFrames: whole.min(1).meta({
    description: "what lasts fewer recorded frames and leaves nothing behind may have been missed",
  }),
  passingSought: z.boolean().meta({
    description: "false: what leaves nothing behind was not looked for, and may have been missed",
  }),
  weakestSeen: weakestSeenSchema,
};

/** events.json, version 1. */
export const eventsSchema = z
  .strictObject({
    format: z.literal("frontpace-events"),
    version: z.literal(1),
    frames: count.meta({ description: "frames of the part of the take that was looked at" }),
    framesRead: count.meta({ description: "distinct frames read" }),
    events: z.array(eventSchema).meta({ description: "strongest first, at most 16" }),
    ...searchedSchema,
    lightChanges: z
      .array(lightChangeSchema)
      .exactOptional()
      .meta({ description: "the light changes everywhere at once and stays; no events; in order of time" }),
    written: z.array(writtenSchema).exactOptional().meta({
      description:
        "rectangles at the upper and lower edge, px, in which something changes all through the take, such as a counter that is written into the frames: left out",
    }),
    notFound: z
      .strictObject({ reason: z.string(), message: z.string() })
      .exactOptional()
      .meta({ description: "present where there is no event" }),
    warnings: z.array(z.strictObject({ code: z.string(), message: z.string() })),
  })
  .meta({ title: "frontpace events", description: "Where in a take something happens. Frames by number." });
