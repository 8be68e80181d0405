import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest, peakBytes, timeRatio } from "../run/contest.js";
import { arrivalMapAlone, decodeAlone } from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeStills } from "../take/write-stills.js";

const SHORT = 145;
const LONG = 3 * SHORT;

/** The arrival map of whole pictures, read twice, against their decode. */
export const mapOfStills: Row = {
  name: "map",
  title: `arrival map of ${SHORT} PNG stills of 1280 x 720, and of ${LONG}`,
  async run({ folder, rounds }): Promise<Check[]> {
    const written = (frames: number) =>
      writeStills(join(folder, `${frames}`), crossingScene(frames, 720, 1280, 8), "png");
    const [short, long] = [await written(SHORT), await written(LONG)];
    const { rows, pixelsPerFrame } = crossingScene(SHORT, 720, 1280, 8);
    const runs = await contest(
      { map: arrivalMapAlone(short), decode: decodeAlone(short, { top: 0, rows }) },
      rounds,
      pixelsPerFrame,
    );
    const slower = crossingScene(LONG, 720, 1280, 8).pixelsPerFrame;
    const longer = await contest({ long: arrivalMapAlone(long) }, 1, slower);
    const [shortPeak, longPeak] = [peakBytes(runs.map), peakBytes(longer.long)];
    const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`;
    return [
      {
        what: "time of the map / of the decode alone, whole processes",
        value: timeRatio(runs.map, runs.decode),
        bar: { below: 2, unit: "times" },
        note: seconds(runs),
      },
      {
        what: `peak memory, ${LONG} frames / ${SHORT}`,
        value: longPeak / shortPeak,
        bar: { below: 1.2, unit: "times" },
        note: `${megabytes(longPeak)}, ${megabytes(shortPeak)}`,
      },
    ];
  },
};
