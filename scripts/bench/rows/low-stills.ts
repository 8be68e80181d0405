import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest, faster, timeRatio } from "../run/contest.js";
import { decodeAlone, measureCommand, middleBand, readingAlone } from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeStills } from "../take/write-stills.js";
import { floorCheck } from "./floor-check.js";

/** 145 low PNG stills, as a fast recording mode gives them: what the command adds to the decode. */
export const lowStills: Row = {
  name: "low",
  // Without pictures there is no report either, which shows them.
  title: "145 PNG stills of 1280 x 72, no pictures and no report",
  async run({ folder, rounds }): Promise<Check[]> {
    const scene = crossingScene(145, 72, 1280, 8);
    const take = await writeStills(join(folder, "take"), scene, "png");
    const band = middleBand(scene.rows);
    const runs = await contest(
      {
        measure: measureCommand(take, band, scene.columns, join(folder, "out"), ["--no-pictures"]),
        sharp: decodeAlone(take, band),
        loader: decodeAlone(take, band, "frame-loader"),
        reading: readingAlone(take, band),
      },
      rounds,
      scene.pixelsPerFrame,
    );
    const decode = faster(runs.sharp, runs.loader);
    const { measure, reading, sharp, loader } = runs;
    return [
      {
        what: "time of the command / of the decode with Node's start",
        value: timeRatio(measure, decode),
        bar: { below: 1.2, unit: "times" },
        note: `the faster decode; ${seconds({ measure, sharp, loader })}`,
      },
      ...floorCheck("  reading alone / decode", { reading }, { decode }),
    ];
  },
};
