import { type FrontMotion, smearOf } from "../model/joint-fit.js";
import { arrivalFrame } from "../model/passage.js";
import type { StreakWindow } from "../model/worked-streak.js";
import { driftWindow } from "./drift-window.js";
import { type Passing, type Relaxation, relaxingColumns } from "./relaxing-columns.js";

/** Where a front was in every frame, about its motion. */
export interface FrontRun {
  readonly motion: FrontMotion;
  readonly numbers: readonly number[];
  /** px, shape (frames,) */
  readonly frontPixels: Float64Array;
}

/** The frames of a window with levels that fall off ahead of a front and settle behind it.
 *  @param within  frames that count at each position; null: all */
export function relaxingWindow(
  run: FrontRun,
  positions: number,
  relaxation: Relaxation,
  within: StreakWindow | null,
): StreakWindow {
  const passingAt = passings(run, positions);
  return driftWindow(run.numbers.length, positions, within, (position) => ({
    columns: relaxingColumns(relaxation, passingAt(position)),
  }));
}

/** How the front passes each position. */
export function passings(run: FrontRun, positions: number): (position: number) => Passing {
  const { motion, numbers, frontPixels } = run;
  const partAt = partOfRun(run, positions);
  const parts = Float64Array.from(numbers, partAt);
  return (position) => ({
    behindPixels: frontPixels.map((pixels) => motion.sense * (pixels - position)),
    run: parts,
    runAtPassage: partAt(arrivalFrame(motion, position)),
    blurPixels: motion.blurPixels,
    smearPixels: smearOf(motion),
    form: motion.form,
  });
}

/** Part of its run that the front has made in a frame, of what lies in both path and take: −1 at its beginning and before, 1 at
 *  its end and after.
 *  @param goesOn  beyond 1 after its end, as fast */
export function partOfRun(
  { motion, numbers }: FrontRun,
  positions: number,
  goesOn = false,
): (number: number) => number {
  const ends = [arrivalFrame(motion, 0), arrivalFrame(motion, positions - 1)];
  const begin = Math.max(numbers[0], Math.min(...ends));
  const end = Math.min(numbers[numbers.length - 1], Math.max(...ends));
  const half = Math.max(0.5, (end - begin) / 2);
  const most = goesOn ? Number.POSITIVE_INFINITY : 1;
  return (number) => Math.max(-1, Math.min(most, (number - begin) / half - 1));
}
