import { fileURLToPath } from "node:url";
import { measureTake } from "@frontpace/take";
import { boundsOf } from "./bound.js";
import { type DrawOptions, drawTake } from "./draw-take.js";
import { inParallel, serveJobs } from "./in-parallel.js";
import { optionsOf } from "./options-of.js";
import { renderTake } from "./render-take.js";

/** What one drawn take gave; plain data, passed between processes. */
export interface Trial {
  readonly seed: number;
  readonly status: "measured" | "bounded" | "not-found";
  readonly reason: string;
  readonly frames: number;
  readonly framesUsed: number;
  readonly pixelsPerFrame: number;
  readonly stepToNoise: number;
  readonly exposureFraction: number;
  readonly wander: number;
  readonly wanderCorrelation: number;
  readonly warnings: readonly string[];
  /** Bound on the speed of the fit alone and with scale and rate, relative standard deviations. */
  readonly boundFit: number;
  readonly boundTotal: number;
  /** (speed − truth) / truth, and the half-width of the 95 % interval over the truth; NaN unless measured. */
  readonly error: number;
  readonly halfWidth: number;
  /** Σ (position error / bound)² and their number, over used frames whose bound is below 0.2 px. */
  readonly positionSquares: number;
  readonly positionCount: number;
}

export async function tryTake(seed: number, options: DrawOptions): Promise<Trial> {
  const take = drawTake(seed, options);
  const { result, track } = await measureTake({ frames: renderTake(take) }, optionsOf(take));
  const bounds = options.still ? null : boundsOf(take);
  let positionSquares = 0;
  let positionCount = 0;
  for (const { frame, positionPixels, used } of track) {
    const bound = bounds?.framePixels[take.numbers.indexOf(frame)] ?? Number.POSITIVE_INFINITY;
    if (!used || !(bound < 0.2)) continue;
    const forward = take.direction === "right" || take.direction === "down";
    const alongPath = forward ? take.front[frame] : take.along - 1 - take.front[frame];
    // A path that the take itself chose runs along rows or columns from the low end to the high.
    positionSquares += ((positionPixels - alongPath) / bound) ** 2;
    positionCount++;
  }
  return {
    seed,
    status: result.status,
    reason: result.notFound?.reason ?? "",
    frames: take.frames,
    framesUsed: result.status === "measured" ? result.front.framesUsed : 0,
    pixelsPerFrame: take.pixelsPerFrame,
    stepToNoise: take.stepToNoise,
    exposureFraction: take.exposureFraction,
    wander: take.wander?.standardDeviation ?? 0,
    wanderCorrelation: take.wander?.correlation ?? 0,
    warnings: result.warnings.map(({ code }) => code),
    boundFit: bounds?.relativeSpeed ?? Number.POSITIVE_INFINITY,
    boundTotal: bounds?.relativeTotal ?? Number.POSITIVE_INFINITY,
    error: result.status === "measured" ? result.speed.value / take.trueSpeed - 1 : Number.NaN,
    halfWidth: result.status === "measured" ? result.speed.expandedUncertainty / take.trueSpeed : Number.NaN,
    positionSquares,
    positionCount,
  };
}

interface Job {
  readonly seed: number;
  readonly options: DrawOptions;
}

const module = fileURLToPath(import.meta.url);

/** Tries the takes of the given seeds on all cores; the trials come back in the order of the seeds. */
export function tryAll(seeds: readonly number[], options: DrawOptions): Promise<Trial[]> {
  return inParallel<Job, Trial>(
    module,
    seeds.map((seed) => ({ seed, options })),
  );
}

serveJobs<Job, Trial>(module, ({ seed, options }) => tryTake(seed, options));
