import * as z from "zod";
import { finite, notNegative, point, positive, whole } from "./schema-numbers.js";

const numbers = z.array(finite);

/** Columns of track.csv, and what was fitted. */
export const trackSchema = z
  .strictObject({
    frame: z.array(whole),
    timeSeconds: numbers.meta({ description: "as in track.csv, s" }),
    positionPixels: numbers.meta({ description: "along the path in the picture, px" }),
    positionMetres: numbers,
    standardUncertaintyMetres: z.array(notNegative).meta({ description: "of the reading in one frame, m" }),
    fittedPixels: numbers.meta({ description: "what the model of the motion says, in the picture, px" }),
    fittedMetres: numbers.meta({ description: "the same, m" }),
    residualMetres: numbers.meta({ description: "positionMetres - fittedMetres" }),
    used: z.array(z.boolean()).meta({ description: "false: rejected" }),
  })
  .exactOptional()
  .meta({
    description: "the front in every frame in which it was found: columns of equal length, one place a frame",
  });

export const speedAlongSchema = z
  .strictObject({
    timeSeconds: numbers,
    speed: numbers.meta({ description: "m/s, in the direction of motion" }),
    halfWidth: z.array(notNegative).meta({
      description:
        "of the band that holds the smoothed speed at one time with 95 %, m/s, without what rate and scale add to all alike",
    }),
  })
  .exactOptional()
  .meta({
    description:
      "the speed along the way without a model, by polynomials through neighbouring positions; absent: the positions are too few",
  });

export const streakSchema = z
  .strictObject({
    channel: z.enum(["brightness", "departures"]),
    firstFrame: finite.meta({ description: "time of the first column, counted in frames" }),
    lastFrame: finite,
    frameStep: positive.meta({ description: "smallest distance of two columns, in frames" }),
    lengthPixels: notNegative.meta({ description: "from the first sample to the last, px along the path" }),
    samples: whole.min(1),
  })
  .exactOptional()
  .meta({ description: "extent of the streak picture that goes with this result" });

const place = z.strictObject({
  kind: z.enum(["line", "circle", "tip"]),
  number: whole
    .min(1)
    .exactOptional()
    .meta({ description: "of the front or branch, where there are several" }),
  points: z.array(point).exactOptional().meta({ description: "ends of the line, or the tip, px" }),
  centre: point.exactOptional(),
  radius: positive.exactOptional(),
});

export const eventFramesSchema = z
  .array(
    z.strictObject({
      moment: z.enum(["before", "middle", "after"]),
      frame: whole,
      fronts: z.array(place).meta({ description: "where in this frame the front was found" }),
    }),
  )
  .exactOptional()
  .meta({ description: "frames that show the event, before, in its middle and after" });
