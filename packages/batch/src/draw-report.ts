import type { ReportPictures } from "@frontpace/report";
import type { TakeResult } from "@frontpace/take";
import { describeAir } from "./describe-air.js";
import { describeMaterial } from "./describe-material.js";

/** Pictures that a report shows, by file name: they lie beside result.json. */
export const REPORT_PICTURES = [
  "frame-before.png",
  "frame-middle.png",
  "frame-after.png",
  "streak-samples.png",
  "search.svg",
  "cracks.png",
  "isochrones.png",
  "speed-map.png",
  "speed-rose.svg",
] as const satisfies readonly (keyof ReportPictures)[];

/** Files of figures that a report links to. */
export const REPORT_FILES = ["result.json", "track.csv", "tips.csv"] as const;

/** The page of a result.
 *  @param files  contents by name, pictures among them; others than those of a report are left out */
export async function drawReport(
  result: TakeResult,
  files: Readonly<Record<string, string | Uint8Array>>,
): Promise<string> {
  const { reportPage } = await import("@frontpace/report");
  const pictures: ReportPictures = Object.fromEntries(
    REPORT_PICTURES.filter((name) => name in files).map((name) => [name, files[name]]),
  );
  return reportPage(result, {
    pictures,
    files: REPORT_FILES.filter((name) => name in files),
    surroundings: [describeMaterial(result), describeAir(result)].filter((line) => line !== null),
  });
}
