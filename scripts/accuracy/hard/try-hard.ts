import { fileURLToPath } from "node:url";
import { measureTake } from "@frontpace/take";
import { boundsOf } from "../bound.js";
import type { DrawnTake } from "../draw-take.js";
import { inParallel, serveJobs } from "../in-parallel.js";
import { optionsOf } from "../options-of.js";
import { drawHard, numbersOf, trueSpeed } from "./draw-hard.js";
import { halfLevelSpeed, type Reading } from "./half-level.js";
import { framesOf, renderScene } from "./render-scene.js";
import type { Scene } from "./scene.js";

export interface HardJob {
  readonly items: readonly string[];
  readonly seed: number;
  /** Nothing runs. */
  readonly still: boolean;
  /** Whether scripts/half-level.py reads the take too. */
  readonly beside: boolean;
}

/** What one take gave; plain data, passed between processes. Relative figures are over the true speed. */
export interface HardTrial {
  readonly items: readonly string[];
  readonly seed: number;
  readonly status: "measured" | "bounded" | "not-found";
  readonly reason: string;
  readonly warnings: readonly string[];
  readonly framesUsed: number;
  readonly seenIn: number;
  readonly pixelsPerFrame: number;
  readonly stepToNoise: number;
  /** (speed − truth) / truth, below −1 where the front is said to run the other way; NaN unless measured
   *  and where nothing runs. */
  readonly error: number;
  /** NaN like the error. */
  readonly standardUncertainty: number;
  readonly halfWidth: number;
  /** Cramér-Rao bound with scale and rate of the same front without the item, a standard deviation. */
  readonly bound: number;
  /** Whether a lower bound lies at or below the truth; null unless bounded. */
  readonly boundHolds: boolean | null;
  /** The script's reading; null where it gave none or was not asked. */
  readonly beside: Reading | null;
}

export async function tryHard({ items, seed, still, beside }: HardJob): Promise<HardTrial> {
  const scene = drawHard(items, seed, still);
  const pictures = await renderScene(scene);
  const { result } = await measureTake({ frames: framesOf(scene, pictures) }, optionsOf(scene.take));
  const { take } = scene;
  const nominal = trueSpeed(scene, 0, scene.stored.length - 1);
  let truth = nominal;
  let error = Number.NaN;
  if (result.status === "measured" && !still) {
    truth = trueSpeed(scene, result.front.firstFrame, result.front.lastFrame);
    error = (forwards(take, result.front.direction) * result.speed.value) / truth - 1;
  }
  const speed = result.status === "measured" && !still ? result.speed : null;
  return {
    items,
    seed,
    status: result.status,
    reason: result.notFound?.reason ?? "",
    warnings: result.warnings.map(({ code }) => code),
    framesUsed: result.front?.framesUsed ?? 0,
    seenIn: take.seenIn,
    pixelsPerFrame: take.pixelsPerFrame * scene.magnification,
    stepToNoise: take.stepToNoise,
    error,
    standardUncertainty: speed ? speed.standardUncertainty / truth : Number.NaN,
    halfWidth: speed ? speed.expandedUncertainty / truth : Number.NaN,
    bound: still ? Number.NaN : boundOf(scene),
    boundHolds: result.status === "bounded" && !still ? result.lowerBound.value <= nominal : null,
    beside: beside ? await halfLevelSpeed(scene, pictures) : null,
  };
}

/** 1 where a direction in the picture is the front's own along its path, −1 where it is the opposite. */
function forwards({ direction }: DrawnTake, [dx, dy]: readonly number[]): 1 | -1 {
  const along = { right: dx, left: -dx, down: dy, up: -dy }[direction];
  return along >= 0 ? 1 : -1;
}

function boundOf(scene: Scene): number {
  const { take, stored, beginsAt, endsAt, changeSize } = scene;
  const shown = new Set(numbersOf(scene).map((number) => stored[number].a));
  // Outside its way the front shows nothing.
  const front = take.front.map((position) =>
    position < beginsAt ? Number.NEGATIVE_INFINITY : position > endsAt ? Number.POSITIVE_INFINITY : position,
  );
  return boundsOf({ ...take, front, step: changeSize, numbers: [...shown] }).relativeTotal;
}

const module = fileURLToPath(import.meta.url);

/** On all cores; the trials come back in the order of the jobs. */
export function tryAllHard(jobs: readonly HardJob[]): Promise<HardTrial[]> {
  return inParallel<HardJob, HardTrial>(module, jobs);
}

serveJobs<HardJob, HardTrial>(module, tryHard);
