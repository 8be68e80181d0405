import { join } from "node:path";
import type { Check, Row } from "../row.js";
import { contest } from "../run/contest.js";
import {
  AS_RUN,
  type Contestant,
  generalPurpose,
  measureCommand,
  middleBand,
  readingAlone,
} from "../run/contestants.js";
import { crossingScene } from "../take/scene.js";
import { containerFormats, writeContainer } from "../take/write-container.js";
import { writeStills } from "../take/write-stills.js";
import { floorCheck } from "./floor-check.js";
import { generalPurposeCheck } from "./general-purpose-check.js";

const STILLS_BAR = 3;
const CONTAINERS_BAR = 5;

/** 300 uncompressed frames of 1280 x 720 along a band of 40 rows, as TIFF stills and in every container, against the
 *  script reading the stills. */
export function uncompressed(bits: 8 | 16): Row {
  return {
    name: `uncompressed-${bits}`,
    title: `300 uncompressed frames of 1280 x 720, ${bits} bit, a band of 40 rows, ${AS_RUN}`,
    async run({ folder, rounds, hasGeneralPurpose }): Promise<Check[]> {
      const scene = crossingScene(300, 720, 1280, bits);
      const band = middleBand(scene.rows);
      const out = join(folder, "out");
      const stills = await writeStills(join(folder, "take"), scene, "tiff");
      const raw = ["--raw", `${scene.columns}x${scene.rows}:${bits === 8 ? "u8" : "u16le"}`];
      const containers: [string, Contestant][] = [];
      for (const format of containerFormats) {
        const file = await writeContainer(join(folder, `take.${format}`), format, { scene });
        const more = format === "raw" ? raw : [];
        containers.push([format, measureCommand(file, band, scene.columns, out, more)]);
        containers.push([`${format} reading`, readingAlone(file, band, more)]);
      }
      const runs = await contest(
        {
          tiff: measureCommand(stills, band, scene.columns, out),
          "tiff reading": readingAlone(stills, band),
          ...Object.fromEntries(containers),
          ...(hasGeneralPurpose && { script: generalPurpose(stills, band) }),
        },
        rounds,
        scene.pixelsPerFrame,
      );
      return ["tiff", ...containerFormats].flatMap((format) => {
        const bar = format === "tiff" ? STILLS_BAR : CONTAINERS_BAR;
        const what = format === "tiff" ? "TIFF stills" : format;
        const reading = runs[`${format} reading`];
        return [
          generalPurposeCheck(`${what}: measure / script`, runs[format], runs.script, bar),
          ...(runs.script
            ? floorCheck("  reading alone / script", { script: runs.script }, { reading })
            : []),
        ];
      });
    },
  };
}
