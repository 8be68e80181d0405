import type { CellGrid } from "./cell-grid.js";
import { greatestSteps, stepsOf } from "./frame-steps.js";
import type { Lamp } from "./lamp.js";
import { median } from "./median.js";
import { changeStrength } from "./noise.js";
import { noiseRatio } from "./noise-ratio.js";
import { lightSteps, misfits, smoothLight } from "./smooth-light.js";

/** A step of the light is in one frame so many times as large as its usual change from frame to frame, in all so many noise levels of a
 *  cell. */
const CLEARLY = 6;
const NOISE_LEVELS = 3;
/** The frames of a slower step change by so many times the usual. */
const STILL_STEPPING = 4;
/** Frames averaged in the light before and behind: fewer where something moves close by, which would count as light. */
const AVERAGED = [16, 8, 4];
const FEWEST = 4;
/** Something moves in frames of which the two halves differ, in any cell, by so many times what noise explains. */
const MOVES = 5;
/** The step is the light's where it explains all cells but a fifth, to a part of the step. */
const EXPLAINED_SHARE = 0.8;
const LEFT_PART = 0.15;
/** What of the step a light makes at least, and what an opposite step within the shortest event takes back. */
const KEPT_PART = 0.7;

/** What frames are held against. */
interface Look {
  readonly grid: CellGrid;
  /** Of one sample, shape (grid.size,). */
  readonly noise: Float64Array;
  /** Frames within which a light that is taken back is an event that passes. */
  readonly closer: number;
}

/** The first step of the light found in some frames.
 *  @param frames  descriptors in order of time
 *  @returns null where nothing steps; the lamp by indices of the frames, null where what steps is no lamp, and whether the step begins
 *    before the frames or goes on behind them */
export function lampInFrames(
  frames: readonly Float64Array[],
  look: Look,
): { readonly lamp: Lamp | null; readonly isCutBefore: boolean; readonly isCutBehind: boolean } | null {
  const steps = stepsOf(frames, look.grid);
  const usual = 1.4826 * median(steps.subarray(1).map(Math.abs));
  let cut: { lamp: null; isCutBefore: boolean; isCutBehind: boolean } | null = null;
  for (const at of greatestSteps(steps)) {
    if (!(Math.abs(steps[at]) > CLEARLY * usual)) break;
    const goesOn = (i: number) => steps[i] * Math.sign(steps[at]) > STILL_STEPPING * usual;
    let before = at - 1;
    while (before > 0 && goesOn(before)) before--;
    let last = at;
    while (last + 1 < frames.length && goesOn(last + 1)) last++;
    const isCutBefore = before + 1 < FEWEST;
    const isCutBehind = last + FEWEST > frames.length;
    const lamp = lampAt(frames, steps, before, last, look);
    if (lamp) return { lamp, isCutBefore, isCutBehind };
    if (isCutBefore || isCutBehind) cut ??= { lamp: null, isCutBefore, isCutBehind };
  }
  return cut;
}

/** @param before  the last frame in the light before, `last`  the first in that behind */
function lampAt(
  frames: readonly Float64Array[],
  steps: Float64Array,
  before: number,
  last: number,
  look: Look,
): Lamp | null {
  const { grid, noise, closer } = look;
  const whole = steps.subarray(before + 1, last + 1).reduce((sum, step) => sum + step, 0);
  const size = Math.abs(whole);
  const ofCell = median(noise.subarray(0, grid.cells));
  const least = NOISE_LEVELS * ofCell;
  if (!(size > least)) return null;
  const isTakenBack = steps
    .subarray(Math.max(0, Math.ceil(before + 1 - closer)), last + closer + 1)
    .some((step) => -step * Math.sign(whole) > KEPT_PART * size);
  if (isTakenBack) return null;
  for (const averaged of AVERAGED) {
    const inOld = frames.slice(Math.max(0, before + 1 - averaged), before + 1);
    const inNow = frames.slice(last, last + averaged);
    if (averaged > FEWEST && (moves(inOld, look) || moves(inNow, look))) continue;
    const [old, now] = [meanOf(inOld), meanOf(inNow)];
    const ofDifference = ofCell * Math.sqrt(1 / inOld.length + 1 / inNow.length);
    const isBrighter = whole > 0;
    const [dim, bright] = isBrighter ? [old, now] : [now, old];
    const isExplained = (lit: Float64Array) => {
      const off = misfits(dim, lit, smoothLight(dim, lit, grid, ofCell), grid).sort();
      const most = off[Math.min(off.length - 1, Math.floor(EXPLAINED_SHARE * off.length))];
      return most < Math.max(least, LEFT_PART * size);
    };
    const light = smoothLight(dim, bright, grid, ofDifference);
    if (!(Math.abs(median(lightSteps(dim, light, grid))) > KEPT_PART * size)) continue;
    if (![bright, ...frames.slice(before + 1, last)].every(isExplained)) continue;
    const ofWhole = grid.size - 1;
    return {
      first: before + 1,
      last,
      isBrighter,
      factor: now[ofWhole] / old[ofWhole],
      strength: changeStrength(old, now, noise, grid),
      dim,
      light,
      noise: ofCell,
      noiseRatio: noiseRatio(frames.slice(0, before + 1), frames.slice(last), isBrighter, light.factor[0]),
    };
  }
  return null;
}

/** Whether something changes in these frames, the light aside. */
function moves(frames: readonly Float64Array[], { grid, noise }: Look): boolean {
  const half = frames.length >> 1;
  if (half === 0) return false;
  const [early, late] = [meanOf(frames.slice(0, half)), meanOf(frames.slice(-half))];
  const differences = late.subarray(0, grid.cells).map((value, k) => (value - early[k]) / noise[k]);
  const common = median(differences);
  // Brighter light has more noise than the noise given may count: what all cells scatter counts too.
  const usual = Math.max(Math.sqrt(2 / half), 1.4826 * median(differences.map((z) => Math.abs(z - common))));
  return differences.some((z) => Math.abs(z - common) > MOVES * usual);
}

function meanOf(descriptors: readonly Float64Array[]): Float64Array {
  return descriptors[0].map(
    (_, k) => descriptors.reduce((sum, values) => sum + values[k], 0) / descriptors.length,
  );
}
