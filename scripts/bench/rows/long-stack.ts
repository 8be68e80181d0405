import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest, peakBytes, timeRatio } from "../run/contest.js";
import { measureCommand, middleBand, readingAlone } from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeContainer } from "../take/write-container.js";
import { floorCheck } from "./floor-check.js";

const EVENT = 145;
const BEFORE = 200;

/** The same 145 frames out of a long and out of a short stack of 1280 x 720; what lies outside is a hole in the file. */
export const longStack: Row = {
  name: "stack",
  title: `measure --frames of the same ${EVENT} of 20,000 and of 500 pages, 1280 x 720, BigTIFF, no report`,
  async run({ folder, rounds }): Promise<Check[]> {
    const scene = crossingScene(EVENT, 720, 1280, 8);
    const band = middleBand(scene.rows);
    const measured = async (frames: number) => {
      const content = { scene, frames, from: BEFORE };
      const file = await writeContainer(join(folder, `${frames}.tif`), "bigtiff", content);
      const range = ["--frames", `${BEFORE}..${BEFORE + EVENT - 1}`];
      // The page of both is the same: its time would bring the ratio nearer to 1 than reading and measuring are.
      const more = [...range, "--no-report"];
      return {
        measure: measureCommand(file, band, scene.columns, join(folder, "out"), more),
        reading: readingAlone(file, band, range),
      };
    };
    const [inLong, inShort] = [await measured(20_000), await measured(500)];
    const runs = await contest(
      {
        long: inLong.measure,
        short: inShort.measure,
        longReading: inLong.reading,
        shortReading: inShort.reading,
      },
      rounds,
      scene.pixelsPerFrame,
    );
    const [long, short] = [peakBytes(runs.long), peakBytes(runs.short)];
    const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`;
    return [
      {
        what: "time, long / short",
        value: timeRatio(runs.long, runs.short),
        bar: { below: 1.3, unit: "times" },
        note: seconds({ long: runs.long, short: runs.short }),
      },
      ...floorCheck(
        "  reading alone, long / short",
        { long: runs.longReading },
        { short: runs.shortReading },
      ),
      {
        what: "peak memory, long / short",
        value: long / short,
        bar: { below: 1.2, unit: "times" },
        note: `long ${megabytes(long)}, short ${megabytes(short)}`,
      },
    ];
  },
};
