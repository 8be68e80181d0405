import * as z from "zod";
import { finite, notNegative, point, whole } from "./schema-numbers.js";

const found = z.strictObject({ value: finite, standardUncertainty: notNegative.nullable() });

const originUncertainty = z.tuple([notNegative.nullable(), notNegative.nullable()]).nullable();

export const shapeSchema = z
  .strictObject({
    name: z
      .enum(["straight", "circle", "none", "no-front"])
      .meta({ description: "none: a front, but of neither shape; no-front: nothing that runs" }),
    reason: z.string(),
    measuredAlong: z.enum(["path", "radius", "rows-or-columns"]).meta({
      description:
        "path: across the straight front, or along the run of a form of its own; radius: the path is one of the rays read",
    }),
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
    form: z.strictObject({ speed: found, angleDegrees: found }).exactOptional().meta({
      description:
        "of a front with a form of its own that moves as a whole, and was followed in that direction, line by line across it: by the arrivals alone, along its run, m/s; from x towards y (down)",
    }),
    circle: z
      .strictObject({
        origin: point,
        originUncertainty,
        originGiven: z.boolean(),
        speed: found,
        aboutFound: z
          .strictObject({
            origin: point,
            originUncertainty,
            speed: found,
            contradicted: z.boolean().exactOptional(),
          })
          .exactOptional()
          .meta({
            description:
              "where the origin was given: the circle about the one that the arrivals have, and whether that is surely another",
          }),
        axes: z
          .strictObject({
            ratio: found,
            angleDegrees: finite,
            differ: z.boolean(),
            origin: point.exactOptional(),
            originUncertainty: originUncertainty.exactOptional(),
          })
          .exactOptional()
          .meta({
            description:
              "longer over shorter axis, where the longer lies (from x towards y), and whether the difference is real: of true circles 95 % show a smaller one; then the front was followed as this ellipse, about its own origin, and the speed is the geometric mean of those along its axes",
          }),
      })
      .nullable()
      .meta({ description: "by the arrivals alone: origin in px, speed along the radius, m/s" }),
  })
  .exactOptional()
  .meta({
    description: "the shape of the front by its arrival map; absent: a path was given, or no map was made",
  });
