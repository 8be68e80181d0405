import { type FrontMotion, smearOf } from "../model/joint-fit.js";
import { arrivalFrame, riseDeviationFrames } from "../model/passage.js";
import type { StreakWindow } from "../model/worked-streak.js";
import { slopingColumns } from "./sloping-columns.js";

/** Half of the front, in standard deviations of its blur, that a window must hold. */
const HALF = 2.5;
/** Frames before and after the rise that must be there. */
const LEAST_FRAMES = 2;

/** The frames about the passage of a front at each position in which its levels are taken to have slopes: those of its rise
 *  and so many before and after, as far as the take goes.
 *  @param numbers  of the streak's frames
 *  @param margin  frames before and after, >= 1; where the take has too few of them, the position is left out */
export function slopingWindow(
  motion: FrontMotion,
  positions: number,
  numbers: readonly number[],
  margin: number,
): StreakWindow {
  const speed = Math.abs(motion.slopePixelsPerFrame);
  const smear = smearOf(motion);
  const half = (HALF * motion.blurPixels + (smear + 1) / 2) / speed;
  const first = new Int32Array(positions);
  const end = new Int32Array(positions);
  const passage = new Float64Array(positions);
  const place = (number: number) => {
    // Numbers increase; beyond either end they are taken to go on one by one.
    const at = numbers.findIndex((value) => value >= number);
    if (at < 0) return numbers.length - 1 + number - numbers[numbers.length - 1];
    if (at === 0) return number - numbers[0];
    return at - (numbers[at] - number) / (numbers[at] - numbers[at - 1]);
  };
  for (let p = 0; p < positions; p++) {
    const at = place(arrivalFrame(motion, p));
    passage[p] = at;
    if (at - half < LEAST_FRAMES - 1 || at + half > numbers.length - LEAST_FRAMES) continue;
    first[p] = Math.max(0, Math.ceil(at - half - margin));
    end[p] = Math.min(numbers.length, Math.floor(at + half + margin) + 1);
  }
  const rise = riseDeviationFrames(motion);
  return {
    first,
    end,
    drift: (position) => ({ columns: slopingColumns(passage[position], rise, numbers.length) }),
  };
}
