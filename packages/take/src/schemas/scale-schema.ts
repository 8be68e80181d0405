import * as z from "zod";
import { finite, notNegative, point, positive } from "./schema-numbers.js";

const row3 = z.tuple([finite, finite, finite]);

const budgetLine = z.strictObject({
  source: z.enum([
    "length standard",
    "pointing",
    "repeat",
    "event plane against scale plane",
    "refraction",
    "beyond linear propagation",
  ]),
  type: z.enum(["A", "B"]),
  relativeStandardUncertainty: notNegative.meta({ description: "relative to the scale" }),
  degreesOfFreedom: positive.nullable().meta({ description: "null: infinite" }),
});

const planeMap = z
  .strictObject({
    matrix: z.tuple([row3, row3, row3]).meta({
      description:
        "H: (x, y, 1) in px, of undistorted pixels where there is a lens, to the plane, m; up to a factor, its last component positive where the plane is seen",
    }),
    covariance: z.array(z.array(finite).length(9)).length(9).meta({
      description: "of the nine entries of the matrix in row order: what pointing leaves open",
    }),
    lensSlopes: z
      .array(z.tuple([finite, finite]))
      .length(9)
      .exactOptional()
      .meta({ description: "how the entries move with k1 and k2 of the lens" }),
    squareOnUncertainty: notNegative.meta({
      description:
        "relative standard uncertainty that pointing would leave were the plane known to be square on",
    }),
  })
  .meta({ description: "plane-to-plane map from pixels to metres" });

const lens = z
  .strictObject({
    k1: finite,
    k2: finite,
    radiusPixels: positive.meta({ description: "R: seen at rho (1 + k1 (rho/R)^2 + k2 (rho/R)^4)" }),
    centrePixels: point,
    covariance: z.tuple([point, point]).meta({ description: "of k1 and k2" }),
    reachPixels: positive.meta({ description: "distance from the centre up to which points were seen" }),
  })
  .meta({ description: "radial distortion" });

const madeFrom = z.strictObject({
  method: z.enum(["lengths", "points", "corners", "dots"]),
  stills: z.array(z.string()).min(1).meta({ description: "names of the files; the first holds the plane" }),
  pointingPixels: notNegative.meta({ description: "standard uncertainty of a coordinate, px" }),
  scales: z.array(positive).meta({ description: "metres per pixel of each length, or of each still" }),
  residualPixels: notNegative.exactOptional().meta({
    description: "root mean square distance of the points from where map and lens put them",
  }),
  lensPictures: z.number().int().exactOptional(),
  middlePixels: point.exactOptional().meta({ description: "where metresPerPixel holds" }),
  pointsBetweenPixels: z
    .tuple([point, point])
    .exactOptional()
    .meta({ description: "corners of the upright rectangle about the points of a plane map, px" }),
  monteCarlo: z.strictObject({
    standardUncertainty: notNegative,
    trials: z.number().int(),
    agrees: z.boolean().meta({ description: "with the linear propagation (JCGM 101:2008, 8.1)" }),
  }),
});

/** scale.json, version 1. */
export const scaleFileSchema = z
  .strictObject({
    format: z.literal("frontpace-scale"),
    version: z.literal(1),
    program: z.strictObject({ name: z.literal("frontpace"), version: z.string() }),
    metresPerPixel: positive.meta({ description: "in the plane of the event" }),
    metresPerPixelUncertainty: notNegative
      .nullable()
      .meta({ description: "one standard uncertainty; null: something in it was not stated" }),
    missing: z.array(z.enum(["length standard", "depth"])),
    budget: z.array(budgetLine),
    columns: z.number().int().positive(),
    rows: z.number().int().positive(),
    sensorOffset: point.meta({ description: "sensor pixel in the top left corner, [column, row]" }),
    binning: positive.meta({ description: "sensor pixels to one of the picture, in either direction" }),
    sensor: z
      .strictObject({ columns: z.number().int().positive(), rows: z.number().int().positive() })
      .exactOptional()
      .meta({ description: "size of the sensor, where it was stated" }),
    medium: z.string().meta({ description: "in which the scale holds" }),
    planeMap: planeMap.exactOptional(),
    lens: lens.exactOptional(),
    madeFrom,
    assumed: z.array(z.string()),
    warnings: z.array(z.strictObject({ code: z.string(), message: z.string() })),
    cautions: z.array(z.string()).exactOptional(),
  })
  .meta({
    title: "frontpace scale",
    description: "Metres in a picture, from a still of something of known size. SI units.",
  });
