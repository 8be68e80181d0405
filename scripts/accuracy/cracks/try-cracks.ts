import { fileURLToPath } from "node:url";
import type { Point } from "@frontpace/cracks";
import { measureTake } from "@frontpace/take";
import { inParallel, serveJobs } from "../in-parallel.js";
import { drawCracks } from "./draw-cracks.js";
import { lengthOf, renderCracks } from "./render-cracks.js";

export interface CrackJob {
  readonly seed: number;
  /** Depth of a crack over the noise of a pixel. */
  readonly contrast: number;
}

/** A drawn branch, and what was found of it. */
export interface BranchOutcome {
  /** px */
  readonly length: number;
  readonly found: "unflagged" | "flagged" | "no-speed" | "missed";
  /** Of the speed, relative, and of its 95 % interval; of those with a speed. */
  readonly error: number | null;
  readonly halfWidth: number | null;
}

export interface CrackOutcome extends CrackJob {
  readonly branches: readonly BranchOutcome[];
  /** Branches found that were not drawn. */
  readonly invented: number;
  /** Why there is no number, where the take has neither a speed nor branches. */
  readonly refused: string | null;
}

/** A branch is the drawn one where so much of it lies within so many px of it. */
const NEAR = 2.5;
const LEAST_SHARE = 0.8;
/** Says how the interval was reckoned, and casts no doubt on it. */
const SAMPLE = "few-frames";

async function tryCracks({ seed, contrast }: CrackJob): Promise<CrackOutcome> {
  const { scene, branches } = drawCracks(seed, contrast);
  const frames = { ...renderCracks(scene), name: `seed ${seed}`, bitDepth: 8 };
  const { result, cracks } = await measureTake(
    { frames },
    { rateHz: 1, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 },
  );
  const courses = cracks?.courses ?? [];
  const truths = courses.map((course) => branches.findIndex((branch) => lies(course, branch.course)));
  return {
    seed,
    contrast,
    invented: truths.filter((k) => k < 0).length,
    refused: result.speed === null && !result.branches ? (result.notFound?.reason ?? null) : null,
    branches: branches.map(({ course, speed }, k): BranchOutcome => {
      const found = result.branches?.filter((_, i) => truths[i] === k) ?? [];
      const best = found.find((one) => one.speed !== null) ?? found[0];
      const length = lengthOf(course);
      if (!best) return { length, found: "missed", error: null, halfWidth: null };
      if (best.speed === null || best.expandedUncertainty === null)
        return { length, found: "no-speed", error: null, halfWidth: null };
      return {
        length,
        found: best.warnings.some((code) => code !== SAMPLE) ? "flagged" : "unflagged",
        error: best.speed / speed - 1,
        halfWidth: best.expandedUncertainty / speed,
      };
    }),
  };
}

function lies(course: readonly Point[], drawn: readonly Point[]): boolean {
  const near = course.filter(([x, y]) => drawn.some(([dx, dy]) => Math.hypot(x - dx, y - dy) < NEAR));
  return near.length >= LEAST_SHARE * course.length;
}

const module = fileURLToPath(import.meta.url);
serveJobs(module, tryCracks);

export function tryAllCracks(jobs: readonly CrackJob[]): Promise<CrackOutcome[]> {
  return inParallel<CrackJob, CrackOutcome>(module, jobs);
}
