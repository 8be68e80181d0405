import { fileURLToPath } from "node:url";
import { measureTake } from "@frontpace/take";
import { type CrossingTake, drawCrossing } from "./draw-crossing.js";
import { inParallel, serveJobs } from "./in-parallel.js";
import { optionsOf } from "./options-of.js";
import { renderTake } from "./render-take.js";

/** What one take with a front that crosses within a few frames gave. */
export interface CrossingTrial {
  readonly status: "measured" | "bounded" | "not-found";
  readonly reason: string;
  readonly pathGiven: boolean;
  readonly exposureStated: boolean;
  /** Bound over the true speed, and over what the frames allow; NaN unless bounded. */
  readonly boundToTruth: number;
  readonly boundToAllowed: number;
  /** Whether the 95 % interval holds the truth; false unless measured. */
  readonly holds: boolean;
}

export async function tryCrossing(seed: number): Promise<CrossingTrial> {
  const take = drawCrossing(seed);
  const { result } = await measureTake(
    { frames: renderTake(take) },
    {
      ...optionsOf(take),
      ...(take.path && { path: picturePath(take) }),
    },
  );
  const bound = result.lowerBound?.value ?? Number.NaN;
  return {
    status: result.status,
    reason: result.notFound?.reason ?? "",
    pathGiven: take.path !== null,
    exposureStated: take.exposureStated,
    boundToTruth: bound / take.trueSpeed,
    boundToAllowed: bound / allowed(take),
    holds:
      result.status === "measured" &&
      Math.abs(result.speed.value - take.trueSpeed) <= result.speed.expandedUncertainty,
  };
}

const module = fileURLToPath(import.meta.url);

/** Tries the takes of the given seeds on all cores; the trials come back in the order of the seeds. */
export function tryAllCrossings(seeds: readonly number[]): Promise<CrossingTrial[]> {
  return inParallel<number, CrossingTrial>(module, seeds);
}

serveJobs<number, CrossingTrial>(module, tryCrossing);

/** What the frames allow to be said: L / ((j − i) T + t_e) with the length of the whole path, the last frame i during
 *  which the front has not reached it, the first frame j during which it has left it, and what really held of scale,
 *  rate and exposure.
 *  @returns m/s */
export function allowed(take: CrossingTake): number {
  const { path, along, numbers, front, pixelsPerFrame, exposureFraction } = take;
  const [from, to] = path ? [path.from, path.to] : [0, along - 1];
  const smear = pixelsPerFrame * exposureFraction;
  const before = numbers.findLast((number) => front[number] + smear / 2 <= from);
  const after = numbers.find((number) => front[number] - smear / 2 >= to);
  if (before === undefined || after === undefined)
    throw new Error(`take ${take.seed} does not show its crossing`);
  const seconds = (after - before + exposureFraction) / take.trueRateHz;
  return ((to - from) * take.trueMetresPerPixel) / seconds;
}

function picturePath({ path, direction, along, across }: CrossingTake): [[number, number], [number, number]] {
  if (!path) throw new Error("no path is given");
  const middle = Math.floor(across / 2);
  const point = (p: number): [number, number] => {
    const place = direction === "right" || direction === "down" ? p : along - 1 - p;
    return direction === "right" || direction === "left" ? [place, middle] : [middle, place];
  };
  const ends = [point(path.from), point(path.to)] as const;
  return path.reversed ? [ends[1], ends[0]] : [ends[0], ends[1]];
}
