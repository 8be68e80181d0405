import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest, timeRatio } from "../run/contest.js";
import { decodeAlone, measureCommand, middleBand } from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeStills } from "../take/write-stills.js";

/** 145 low PNG stills, as a fast recording mode gives them: what the command adds to the decode. */
export const lowStills: Row = {
  name: "low",
  title: "145 PNG stills of 1280 x 72, no pictures",
  async run({ folder, rounds }): Promise<Check[]> {
    const scene = crossingScene(145, 72, 1280, 8);
    const take = await writeStills(join(folder, "take"), scene, "png");
    const band = middleBand(scene.rows);
    const runs = await contest(
      {
        measure: measureCommand(take, band, scene.columns, join(folder, "out"), ["--no-pictures"]),
        decode: decodeAlone(take, band),
      },
      rounds,
      scene.pixelsPerFrame,
    );
    return [
      {
        what: "time of the command / of the decode with Node's start",
        value: timeRatio(runs.measure, runs.decode),
        bar: { below: 1.2, unit: "times" },
        note: seconds(runs),
      },
    ];
  },
};
