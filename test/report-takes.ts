/** Invented takes of every outcome, and the pages of their results. */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Point } from "@frontpace/cracks";
import { planModes, readModes } from "@frontpace/planner";
import {
  assemblePlan,
  type MeasureOptions,
  mapQuantities,
  measureTake,
  type TakeFrames,
} from "@frontpace/take";
import { drawPictures } from "../packages/batch/src/draw-pictures.js";
import { drawReport } from "../packages/batch/src/draw-report.js";
import { range, renderTake, TWO_FRONTS } from "../packages/take/test/render-take.js";
import { courseOf, lengthOf, renderCracks } from "../scripts/accuracy/cracks/render-cracks.js";
import { drawPlane } from "../scripts/accuracy/plane/draw-plane.js";
import { renderPlane } from "../scripts/accuracy/plane/render-plane.js";

/** 0.2 mm a pixel and 100,000 frames a second: 1 px a frame is 20 m/s. */
const known = { rateHz: 1e5, rateUncertaintyHz: 5, metresPerPixel: 2e-4, metresPerPixelUncertainty: 1e-6 };

/** What a page is made of. */
export interface ReportCase {
  readonly name: string;
  readonly status: "measured" | "bounded" | "not-found";
  /** What its first line says. */
  readonly says: RegExp;
  take(folder: string): Promise<readonly [take: string | { frames: TakeFrames }, options: MeasureOptions]>;
}

export const reportCases: readonly ReportCase[] = [
  {
    name: "clean",
    status: "measured",
    says: /^The front ran at 1480\.5 ± 8\.7 m\/s$/,
    take: async () => [fileURLToPath(new URL("../fixtures/cracking-tile", import.meta.url)), {}],
  },
  {
    name: "reading-only",
    status: "measured",
    says: /^The front ran at 0\.200 ± 0\.019 m\/s$/,
    take: async () => [
      fileURLToPath(new URL("../fixtures/nickel-solidification", import.meta.url)),
      {
        rateHz: 8e4,
        metresPerPixel: 1.93e-6,
        path: [
          [111.5, 110],
          [111.5, 62],
        ],
        width: 16,
      },
    ],
  },
  {
    name: "bounded",
    status: "bounded",
    says: /^The front ran at least [\d.]+ m\/s$/,
    take: async (folder) => [
      await renderTake(join(folder, "fast"), { numbers: range(0, 20), start: -500, pixelsPerFrame: 60 }),
      known,
    ],
  },
  {
    name: "not-found",
    status: "not-found",
    says: /^No speed was measured$/,
    take: async (folder) => [
      await renderTake(join(folder, "still"), { numbers: range(0, 24), start: -50, pixelsPerFrame: 0 }),
      known,
    ],
  },
  {
    name: "two-fronts",
    status: "not-found",
    says: /^No one speed: 2 fronts ran along the path$/,
    take: async (folder) => [await renderTake(join(folder, "two"), TWO_FRONTS), known],
  },
  {
    name: "circle",
    status: "measured",
    says: /^The front ran at [\d.]+ ± [\d.]+ m\/s$/,
    take: async () => [
      { frames: { ...renderPlane(drawPlane("circle, clean", 20_261_124)), name: "spark" } },
      known,
    ],
  },
  {
    name: "cracks",
    status: "not-found",
    says: /^No one speed: 3 cracks ran, each at its own$/,
    take: branchingCracks,
  },
  { name: "planned", status: "measured", says: /^The front ran at/, take: plannedTake },
];

/** Measures a case and makes its page, as the command does. */
export async function pageOf(one: ReportCase) {
  const folder = await mkdtemp(join(tmpdir(), "frontpace-report-"));
  try {
    const [take, options] = await one.take(folder);
    const measurement = await measureTake(take, options, { eventPictures: true });
    const { result, arrival } = measurement;
    const pictures = await drawPictures(measurement, arrival && (await mapQuantities(arrival)));
    const files = {
      "result.json": "",
      ...(result.status === "measured" && { "track.csv": "" }),
      ...pictures,
    };
    return { result, page: await drawReport(result, files) };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function branchingCracks() {
  const stem = courseOf((s): Point => [12 + 60 * s, 50]);
  const arm = (slope: number) => courseOf((s): Point => [72 + 75 * s, 50 + 75 * slope * s]);
  const parts = 5 + lengthOf(stem) / 4;
  const cracks = [
    { course: stem, length: (time: number) => 4 * (time - 5) },
    { course: arm(0.45), length: (time: number) => 5 * (time - parts) },
    { course: arm(-0.5), length: (time: number) => 5 * (time - parts) },
  ];
  const scene = { rows: 100, columns: 160, count: 45, depth: -40, noise: 2, cracks };
  return [{ frames: { ...renderCracks(scene), name: "pane", bitDepth: 8 } }, known] as const;
}

/** Too fast for its plan and for what cracks, without uncertainties, a frame absent, the front leaving: five warnings and more. */
async function plannedTake(folder: string) {
  const numbers = range(-4, 50).filter((number) => number !== 11);
  const take = await renderTake(join(folder, "tile"), { numbers, pixelsPerFrame: 2, start: 0 });
  const request = { speedMetresPerSecond: { low: 38, high: 42 }, lengthMetres: 0.0192 };
  const plan = planModes(readModes("columns,rows,max_rate\n96,16,100000"), request);
  const subject = { take: "tile", material: null, request, cautions: [] };
  await writeFile(join(folder, "plan.json"), JSON.stringify(assemblePlan(plan, subject).plan));
  const options = {
    rateHz: 1e7,
    metresPerPixel: 2e-4,
    material: "soda-lime-glass",
    polarity: "bright" as const,
  };
  return [take, { ...options, plan: join(folder, "plan.json") }] as const;
}
