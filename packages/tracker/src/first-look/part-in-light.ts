/** Levels of the positions before and after a change, DN, each with the variance of its noise. */
export interface ChangedLevels {
  readonly before: Float64Array;
  readonly after: Float64Array;
  readonly varianceBefore: number;
  readonly varianceAfter: number;
}

/** Squares that noise alone leaves exceed their mean by no more than this many standard deviations. */
const BY_NOISE = 4;
/** A part of the path from one end tells of the light where it is so much of it, more than what a crossing may leave out, and has
 *  so many positions. */
const LEAST_PART = 0.15;
const FEWEST_POSITIONS = 8;
/** The rest changes otherwise where its mean is off by this many standard deviations. */
const BEYOND_NOISE = 6;

/** Whether the path changed at one end as the light alone makes it, by one factor, and elsewhere otherwise: a front stands
 *  between, and did not cross the path. What changes by one step and one factor everywhere may have been crossed. */
export function isPartInLight(levels: ChangedLevels): boolean {
  return !isAlikeEverywhere(levels) && (isPartFromStart(levels) || isPartFromStart(reversed(levels)));
}

/** Whether after = factor · before + step, to noise, at all positions. */
function isAlikeEverywhere(levels: ChangedLevels): boolean {
  const { before, after } = levels;
  const count = before.length;
  const meanBefore = before.reduce((sum, level) => sum + level, 0) / count;
  const meanAfter = after.reduce((sum, level) => sum + level, 0) / count;
  let products = 0;
  let squares = 0;
  for (let p = 0; p < count; p++) {
    products += (before[p] - meanBefore) * (after[p] - meanAfter);
    squares += (before[p] - meanBefore) ** 2;
  }
  const factor = squares > 0 ? products / squares : 0;
  const step = meanAfter - factor * meanBefore;
  let left = 0;
  for (let p = 0; p < count; p++) left += (after[p] - factor * before[p] - step) ** 2;
  return isByNoise(left / varianceOf(levels, factor), count);
}

function isPartFromStart(levels: ChangedLevels): boolean {
  const { before, after } = levels;
  const count = before.length;
  let products = 0;
  let squares = 0;
  let afterSquares = 0;
  let end = 0;
  let factor = 1;
  for (let p = 0; p < count; p++) {
    products += before[p] * after[p];
    squares += before[p] ** 2;
    afterSquares += after[p] ** 2;
    if (!(squares > 0)) continue;
    const left = afterSquares - products ** 2 / squares;
    if (!isByNoise(left / varianceOf(levels, products / squares), p + 1)) continue;
    end = p + 1;
    factor = products / squares;
  }
  if (end < Math.max(FEWEST_POSITIONS, LEAST_PART * count) || end === count) return false;
  let rest = 0;
  for (let p = end; p < count; p++) rest += after[p] - factor * before[p];
  return Math.abs(rest) > BEYOND_NOISE * Math.sqrt((count - end) * varianceOf(levels, factor));
}

function isByNoise(squares: number, count: number): boolean {
  return squares < count + BY_NOISE * Math.sqrt(2 * count);
}

function varianceOf({ varianceBefore, varianceAfter }: ChangedLevels, factor: number): number {
  return varianceAfter + factor ** 2 * varianceBefore;
}

function reversed({ before, after, ...variances }: ChangedLevels): ChangedLevels {
  return { before: before.toReversed(), after: after.toReversed(), ...variances };
}
