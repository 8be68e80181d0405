import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest, faster, timeRatio } from "../run/contest.js";
import {
  AS_RUN,
  decodeAlone,
  generalPurpose,
  measureCommand,
  middleBand,
  readingAlone,
} from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeStills } from "../take/write-stills.js";
import { floorCheck } from "./floor-check.js";
import { generalPurposeCheck } from "./general-purpose-check.js";

/** 300 compressed stills of 1280 x 720: against the decode alone, and against the script.
 *  @param bar  how many times as fast as the script */
export function compressedStills(format: "png" | "jpeg", bar: number): Row {
  return {
    name: format,
    title: `300 ${format.toUpperCase()} stills of 1280 x 720, ${AS_RUN}`,
    async run({ folder, rounds, hasGeneralPurpose }): Promise<Check[]> {
      const scene = crossingScene(300, 720, 1280, 8);
      const take = await writeStills(join(folder, "take"), scene, format);
      const band = middleBand(scene.rows);
      const runs = await contest(
        {
          measure: measureCommand(take, band, scene.columns, join(folder, "out")),
          sharp: decodeAlone(take, band),
          ...(format === "png" && { loader: decodeAlone(take, band, "frame-loader") }),
          reading: readingAlone(take, band),
          ...(hasGeneralPurpose && { script: generalPurpose(take, band) }),
        },
        rounds,
        scene.pixelsPerFrame,
      );
      const decode = runs.loader ? faster(runs.sharp, runs.loader) : runs.sharp;
      const { measure, reading, sharp, loader, script } = runs;
      return [
        {
          what: "measure / decode alone, frames a second",
          value: timeRatio(decode, measure),
          bar: { atLeast: 0.9, unit: "times" },
          note: `the faster decode; ${seconds({ measure, sharp, ...(loader && { loader }) })}`,
        },
        ...floorCheck("  reading alone / decode alone", { decode }, { reading }),
        generalPurposeCheck("measure / script, whole processes", measure, script, bar),
        ...(script ? floorCheck("  reading alone / script", { script }, { reading }) : []),
      ];
    },
  };
}
