import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { SummaryExtras } from "@frontpace/report";
import { removeLeftovers, writeOutputs } from "@frontpace/take";
import { amongOthers } from "./among-others.js";
import type { BatchSummary } from "./assemble-summary.js";
import { isThere } from "./is-there.js";
import { summaryCsv } from "./summary-csv.js";

/** Size of the picture of a take, px. */
const PICTURE = { width: 160, height: 60 } as const;

/** Writes summary.json, summary.csv and summary.html, which shows the pictures that the takes left.
 *  @param out  the folder of the batch
 *  @returns names of the files
 *  @throws TakeError `output-not-writable`; `signal.reason` when stopped */
export async function writeSummary(
  out: string,
  summary: BatchSummary,
  signal?: AbortSignal,
): Promise<string[]> {
  const { summaryPage } = await import("@frontpace/report");
  const extras: Record<string, SummaryExtras> = {};
  for (const { take, result } of summary.takes)
    if (result !== null) extras[take] = await extrasOf(out, result);
  const files = {
    "summary.html": await summaryPage(summary, extras),
    "summary.csv": summaryCsv(summary),
    "summary.json": `${JSON.stringify(summary, null, 2)}\n`,
  };
  await removeLeftovers(out);
  await amongOthers(() => writeOutputs(out, files, signal ? { signal } : {}));
  return Object.keys(files);
}

async function extrasOf(out: string, result: string): Promise<SummaryExtras> {
  const beside = (name: string) => result.replace(/result\.json$/, name);
  const path = (name: string) => join(out, beside(name));
  const streak = await readFile(path("streak-samples.png")).catch(() => null);
  const page = await isThere(path("report.html"));
  return {
    ...(streak && { picture: await small(streak) }),
    ...(page && { page: beside("report.html").split("/").map(encodeURIComponent).join("/") }),
  };
}

/** In few greys: a page of hundreds of takes holds all of them. */
async function small(png: Uint8Array): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  // No picture comes twice.
  sharp.cache(false);
  return sharp(png)
    .resize({ ...PICTURE, fit: "fill" })
    .toColourspace("b-w")
    .png({ palette: true, colours: 16, dither: 0 })
    .toBuffer();
}
