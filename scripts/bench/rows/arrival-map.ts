import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest, faster, peakBytes, timeRatio } from "../run/contest.js";
import { arrivalMapAlone, decodeAlone, readingAlone } from "../run/contestants.js";
import { seconds } from "../seconds.js";
import { crossingScene } from "../take/scene.js";
import { writeStills } from "../take/write-stills.js";
import { floorCheck } from "./floor-check.js";

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
      {
        map: arrivalMapAlone(short),
        sharp: decodeAlone(short, { top: 0, rows }),
        loader: decodeAlone(short, { top: 0, rows }, "frame-loader"),
        reading: readingAlone(short, { top: 0, rows }, ["--passes", "2"]),
      },
      rounds,
      pixelsPerFrame,
    );
    const decode = faster(runs.sharp, runs.loader);
    const { map, sharp, loader, reading } = runs;
    const slower = crossingScene(LONG, 720, 1280, 8).pixelsPerFrame;
    const longer = await contest({ long: arrivalMapAlone(long) }, 1, slower);
    const [shortPeak, longPeak] = [peakBytes(runs.map), peakBytes(longer.long)];
    const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(0)} MB`;
    return [
      {
        what: "time of the map / of the decode alone, whole processes",
        value: timeRatio(map, decode),
        bar: { below: 2, unit: "times" },
        note: `the faster decode; ${seconds({ map, sharp, loader })}`,
      },
      ...floorCheck("  reading alone, twice / decode alone", { reading }, { decode }),
      {
        what: `peak memory, ${LONG} frames / ${SHORT}`,
        value: longPeak / shortPeak,
        bar: { below: 1.2, unit: "times" },
        note: `${megabytes(longPeak)}, ${megabytes(shortPeak)}`,
      },
    ];
  },
};
