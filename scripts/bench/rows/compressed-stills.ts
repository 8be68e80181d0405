import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest, timeRatio } from "../run/contest.js";
import { decodeAlone, generalPurpose, measureCommand, middleBand } from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeStills } from "../take/write-stills.js";
import { generalPurposeCheck } from "./general-purpose-check.js";

/** 300 compressed stills of 1280 x 720: against the decode alone, and against the script.
 *  @param bar  how many times as fast as the script */
export function compressedStills(format: "png" | "jpeg", bar: number): Row {
  return {
    name: format,
    title: `300 ${format.toUpperCase()} stills of 1280 x 720`,
    async run({ folder, rounds, hasGeneralPurpose }): Promise<Check[]> {
      const scene = crossingScene(300, 720, 1280, 8);
      const take = await writeStills(join(folder, "take"), scene, format);
      const band = middleBand(scene.rows);
      const runs = await contest(
        {
          measure: measureCommand(take, band, scene.columns, join(folder, "out")),
          decode: decodeAlone(take, band),
          ...(hasGeneralPurpose && { script: generalPurpose(take, band) }),
        },
        rounds,
        scene.pixelsPerFrame,
      );
      return [
        {
          what: "measure / decode alone, frames a second",
          value: timeRatio(runs.decode, runs.measure),
          bar: { atLeast: 0.9, unit: "times" },
          note: seconds({ measure: runs.measure, decode: runs.decode }),
        },
        generalPurposeCheck("measure / script, whole processes", runs.measure, runs.script, bar),
      ];
    },
  };
}
