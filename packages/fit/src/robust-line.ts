import { LineVotes } from "./line-votes.js";
import { theilSen } from "./theil-sen.js";

export interface RobustLine {
  readonly intercept: number;
  readonly slope: number;
  /** Indices of the points within `tolerance` of the line. */
  readonly support: readonly number[];
}

export interface RobustLineOptions {
  /** Largest distance in y at which a point supports a line, > 0. */
  readonly tolerance: number;
  /** Weight of each point's vote, shape (N,), >= 0. Default: 1 each. */
  readonly weights?: readonly number[];
  /** Lines steeper than this (|slope|), > 0, are not put to the vote. Default: no limit. */
  readonly steepest?: number;
}

/** Points from which candidate lines are drawn; pairs grow with its square. */
const CANDIDATES = 120;
/** Points that vote for them: beyond so many, more change no vote by as much as two lines differ. */
const VOTERS = 4000;
/** Multiples of it, whole parts left out, come back nowhere near where they were. */
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** Theil-Sen is quadratic in time and memory. */
const MOST_POINTS = 500;

/** The straight line that most points agree on: every pair of (up to 120, evenly chosen) points proposes a line,
 *  all points (up to 4,000, chosen from all stretches) vote for it, and the median slope of the winner's supporters (Theil-Sen) refines it. The vote holds
 *  while the true line has more support than any other, where the median alone breaks at 29 % bad points.
 *  @param x  shape (N,)
 *  @param y  shape (N,)
 *  @returns null where no two points propose a line: all at one x, or every slope beyond `steepest`
 *  @throws RangeError on lengths that differ, values that are not finite, tolerance or steepest that is not > 0, a
 *    weight that is negative */
export function robustLine(
  x: readonly number[],
  y: readonly number[],
  options: RobustLineOptions,
): RobustLine | null {
  const { tolerance, weights, steepest = Number.POSITIVE_INFINITY } = options;
  checkInput(x, y, options);
  const voters = oneOfEachStretch(x.length, VOTERS);
  const best = mostVoted(
    Float64Array.from(voters, (k) => x[k]),
    Float64Array.from(voters, (k) => y[k]),
    Float64Array.from(voters, (k) => weights?.[k] ?? 1),
    tolerance,
    steepest,
  );
  if (!best) return null;
  const { slope, intercept } = refine(x, y, supportOf(x, y, best, tolerance), best);
  return { slope, intercept, support: supportOf(x, y, { slope, intercept }, tolerance) };
}

/** So many of the places up to a count, at most. */
function evenlyChosen(count: number, most: number): number[] {
  const stride = Math.max(1, count / most);
  return Array.from({ length: Math.min(count, most) }, (_, k) => Math.floor(k * stride));
}

/** The same, every time at another place of its stretch: what comes back along the points, as two fronts by turns, is met at all its phases. */
function oneOfEachStretch(count: number, most: number): number[] {
  const stride = Math.max(1, count / most);
  const place = (k: number) => (stride === 1 ? 0 : (k * GOLDEN) % 1);
  return Array.from({ length: Math.min(count, most) }, (_, k) => Math.floor((k + place(k)) * stride));
}

/** The line of a pair of candidates that gets most votes. */
function mostVoted(
  x: Float64Array,
  y: Float64Array,
  weights: Float64Array,
  tolerance: number,
  steepest: number,
): { intercept: number; slope: number } | null {
  const candidates = evenlyChosen(x.length, CANDIDATES);
  const votes = new LineVotes(x, y, weights, tolerance);
  let best: { intercept: number; slope: number } | null = null;
  let most = 0;
  for (let a = 0; a < candidates.length; a++)
    for (let b = a + 1; b < candidates.length; b++) {
      const i = candidates[a];
      const j = candidates[b];
      if (x[i] === x[j]) continue;
      const slope = (y[j] - y[i]) / (x[j] - x[i]);
      if (Math.abs(slope) > steepest) continue;
      const intercept = y[i] - slope * x[i];
      const ofLine = votes.of(intercept, slope, best ? most : -1);
      if (best && ofLine <= most) continue;
      best = { intercept, slope };
      most = ofLine;
      votes.refer(intercept, slope);
    }
  return best;
}

function supportOf(
  x: readonly number[],
  y: readonly number[],
  line: { intercept: number; slope: number },
  tolerance: number,
): number[] {
  return x.flatMap((value, k) =>
    Math.abs(y[k] - line.intercept - line.slope * value) < tolerance ? [k] : [],
  );
}

function refine(
  x: readonly number[],
  y: readonly number[],
  support: readonly number[],
  line: { intercept: number; slope: number },
): { intercept: number; slope: number } {
  const chosen = evenlyChosen(support.length, MOST_POINTS).map((k) => support[k]);
  if (chosen.length < 3 || new Set(chosen.map((k) => x[k])).size < 3) return line;
  const { slope, intercept } = theilSen(
    chosen.map((k) => x[k]),
    chosen.map((k) => y[k]),
  );
  return Number.isFinite(slope) && Number.isFinite(intercept) ? { slope, intercept } : line;
}

function checkInput(
  x: readonly number[],
  y: readonly number[],
  { tolerance, weights, steepest }: RobustLineOptions,
): void {
  if (!(tolerance > 0)) throw new RangeError(`tolerance must be > 0, got ${tolerance}`);
  if (steepest !== undefined && !(steepest > 0))
    throw new RangeError(`steepest must be > 0, got ${steepest}`);
  if (y.length !== x.length)
    throw new RangeError(`y must have the length of x, ${x.length}, got ${y.length}`);
  if (weights && weights.length !== x.length)
    throw new RangeError(`weights must have the length of x, ${x.length}, got ${weights.length}`);
  for (let i = 0; i < x.length; i++) {
    if (!Number.isFinite(x[i])) throw new RangeError(`x[${i}] must be finite, got ${x[i]}`);
    if (!Number.isFinite(y[i])) throw new RangeError(`y[${i}] must be finite, got ${y[i]}`);
    if (weights && !(weights[i] >= 0 && weights[i] < Number.POSITIVE_INFINITY))
      throw new RangeError(`weights[${i}] must be finite and >= 0, got ${weights[i]}`);
  }
}
