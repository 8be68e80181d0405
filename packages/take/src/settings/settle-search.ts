import { TakeError } from "../take-error.js";
import type { FindOptions, TakeFile } from "../types.js";
import { checkExtent } from "./check-extent.js";

/** Options of a search and take.json joined and checked: complete, except for what only the frames can tell. */
export interface SearchSettings {
  readonly rateHz: number | null;
  readonly path: FindOptions["path"] | null;
  readonly width: number | null;
  readonly region: FindOptions["region"] | null;
  readonly firstFrame: number | null;
  readonly lastFrame: number | null;
  readonly shortestFrames: number;
  readonly thorough: boolean;
}

/** A crack at 1500 m/s crosses a tenth of a metre in this time. */
const SHORTEST_SECONDS = 64e-6;
/** Noise in fewer frames is too easily taken for an event. */
const FEWEST_FRAMES = 8;
const WITHOUT_RATE = 32;

/** Joins checked options of a search with take.json, options winning: a region there takes the place of the path here.
 *  @throws TakeError `invalid-value`, `path-empty` */
export function settleSearch(options: FindOptions, file: TakeFile | null): SearchSettings {
  const { region } = options;
  if (region && (options.path || options.width !== undefined)) {
    const message = "region must stand alone, got path or width with it: give one of them";
    throw new TakeError("invalid-value", message, { key: "region", value: region });
  }
  const { rateHz, path, width, firstFrame, lastFrame, frameStep } = { ...file, ...options };
  if (options.width !== undefined && !path) {
    const message = `width must come with a path, got ${options.width} alone: give the path it belongs to`;
    throw new TakeError("invalid-value", message, { key: "width", value: options.width });
  }
  checkExtent({
    ...(path && { path }),
    ...(firstFrame !== undefined && { firstFrame }),
    ...(lastFrame !== undefined && { lastFrame }),
  });
  return {
    rateHz: rateHz ?? null,
    path: region ? null : (path ?? null),
    width: region || !path ? null : (width ?? null),
    region: region ?? null,
    firstFrame: firstFrame ?? null,
    lastFrame: lastFrame ?? null,
    shortestFrames: options.shortestFrames ?? shortestFrames(rateHz ?? null, frameStep ?? 1),
    thorough: options.thorough ?? false,
  };
}

/** Frames of 64 µs, but not fewer than 8; 32 where the rate is not known.
 *  @param frameStep  every how many-th recorded frame is there */
export function shortestFrames(rateHz: number | null, frameStep: number): number {
  if (rateHz === null) return WITHOUT_RATE;
  return Math.max(FEWEST_FRAMES, Math.round((SHORTEST_SECONDS * rateHz) / frameStep));
}
