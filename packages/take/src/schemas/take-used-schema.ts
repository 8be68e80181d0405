import * as z from "zod";
import { finite, notNegative, point, polarity, positive, whole } from "./schema-numbers.js";

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
    stills: z
      .array(z.string())
      .exactOptional()
      .meta({ description: "names of the files that show the length standard" }),
  })
  .meta({ description: "where the scale comes from; metresPerPixel is then the mean along the path" });

export const takeUsedSchema = z
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
    startTimeSeconds: finite.exactOptional(),
    airTemperatureKelvin: positive.exactOptional(),
    airTemperatureUncertaintyKelvin: notNegative
      .nullable()
      .exactOptional()
      .meta({ description: "null: not stated" }),
    distanceMetres: positive.exactOptional().meta({
      description: "from the camera to the centre of a sphere seen by its limb, as stated",
    }),
    distanceUncertaintyMetres: notNegative
      .nullable()
      .exactOptional()
      .meta({ description: "null: not stated" }),
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
    framesPart: z
      .strictObject({ row: whole.min(0), column: whole.min(0), rows: whole.min(1), columns: whole.min(1) })
      .exactOptional()
      .meta({ description: "the part of the picture that framesHash is over, px; absent: none was read" }),
    stated: z.array(z.string()).exactOptional().meta({
      description:
        "keys of take.json that were stated, there or as options: every other choice was the program's",
    }),
    planHash: z.string().exactOptional().meta({ description: "digest of the plan it was measured with" }),
  })
  .meta({ description: "the take as used" });
