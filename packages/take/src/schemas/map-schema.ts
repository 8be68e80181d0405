import * as z from "zod";
import { positive, whole } from "./schema-numbers.js";

export const mapSchema = z
  .strictObject({
    cell: whole.min(1).meta({
      description:
        "edge of a cell, px; the cell in row r and column c is centred on x = (c + 1/2) cell - 1/2, y = (r + 1/2) cell - 1/2",
    }),
    rows: whole.min(1).meta({ description: "of cells, the first size of every array" }),
    columns: whole.min(1).meta({ description: "of cells, the second size of every array" }),
    cellsWithArrival: whole.min(0),
    kind: z.enum(["stays", "passes"]).meta({
      description:
        "stays: the time is that of the middle of a change that stays; passes: of the centre of gravity of one that passes",
    }),
    metresPerPixel: positive
      .nullable()
      .meta({ description: "for the local speed; null: the picture has no one scale, and no speed is said" }),
    stillFrame: whole.meta({ description: "number of the frame that the isochrones are drawn over" }),
    arrays: z
      .array(z.strictObject({ file: z.string(), quantity: z.string(), unit: z.string() }))
      .meta({ description: "NumPy files, float64, shape (rows, columns), NaN where nothing is said" }),
  })
  .exactOptional()
  .meta({ description: "the arrival map whose arrays and pictures go with this result; absent: none do" });
