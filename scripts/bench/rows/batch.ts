import { cp, mkdir } from "node:fs/promises";
import { join } from "node:path";
import { median } from "@frontpace/fit";
import type { Check, Row } from "../row.js";
import { contest, peakBytes, timeRatio } from "../run/contest.js";
import { batchCommand, oneAfterAnother } from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeStills } from "../take/write-stills.js";

const MANY = 200;
const FEW = 50;
const SCENE = crossingScene(30, 16, 96, 8);

/** Many small takes: what a second worker saves, what the processes cost, and what the main one keeps of each take. */
export const batchOfTakes: Row = {
  name: "batch",
  title: `batch of ${MANY} takes, each ${SCENE.frames} PNG stills of ${SCENE.columns} x ${SCENE.rows}, no pictures; for memory with pictures and reports, and of ${FEW} takes`,
  async run({ folder, rounds }): Promise<Check[]> {
    const still = await writeStills(join(folder, "take"), SCENE, "png");
    const day = async (takes: number) => {
      const below = join(folder, `${takes}`);
      await mkdir(below);
      for (let k = 0; k < takes; k++) await cp(still, join(below, `tile-${k}`), { recursive: true });
      return below;
    };
    const [many, few] = [await day(MANY), await day(FEW)];
    const out = join(folder, "out");
    const bare = ["--no-pictures"];
    // Each runs for so long that the first round is like the others.
    const { one, two, alone } = await contest(
      {
        one: batchCommand(many, out, 1, MANY, bare),
        two: batchCommand(many, out, 2, MANY, bare),
        alone: oneAfterAnother(many, out, MANY),
      },
      rounds,
      SCENE.pixelsPerFrame,
      { uncounted: 0 },
    );
    const drawn = await contest(
      { many: batchCommand(many, out, 2, MANY), few: batchCommand(few, out, 2, FEW) },
      1,
      SCENE.pixelsPerFrame,
      { uncounted: 0 },
    );
    const [manyPeak, fewPeak] = [peakBytes(drawn.many), peakBytes(drawn.few)];
    const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`;
    return [
      {
        what: "time of 2 workers / of 1",
        value: timeRatio(two, one),
        bar: { below: 0.65, unit: "times" },
        note: seconds({ one, two }),
      },
      {
        what: "  processor time of 1 worker / 2 x its time",
        value: median(one.map((run) => (run.processorSeconds ?? Number.NaN) / 2 / run.seconds)),
        bar: "floor",
        note: "two processors that both work all the time: compiler, collector and decoder of the one worker use the second one already",
      },
      {
        what: "time of 1 worker / of one process, one take after another",
        value: timeRatio(one, alone),
        bar: { below: 1, unit: "times" },
        note: seconds({ one, alone }),
      },
      {
        what: `peak memory of the main process, ${MANY} takes / ${FEW}`,
        value: manyPeak / fewPeak,
        bar: { below: 1.2, unit: "times" },
        note: `${megabytes(manyPeak)}, ${megabytes(fewPeak)}`,
      },
    ];
  },
};
