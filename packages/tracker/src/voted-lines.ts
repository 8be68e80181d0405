import { robustLine } from "@frontpace/fit";
import type { Split } from "./change-in-time.js";
import { leastStrength, voteTolerance } from "./first-line.js";
import { SHUFFLES, shuffledOrder } from "./shuffled-order.js";

/** A straight line through sudden changes at many positions. */
export interface VotedLine {
  readonly frameAtOrigin: number;
  readonly framesPerPixel: number;
  /** Positions with a change on the line, increasing. */
  readonly support: readonly number[];
  /** First and last column of the changes on the line at each of them: one that is not sudden is several splits. */
  readonly columns: readonly (readonly [first: number, last: number])[];
}

/** Lines put to the vote, at most. */
const MOST_LINES = 5;
/** Part of the positions that must have a change on a line. */
const LEAST_SUPPORT = 0.15;
const FEWEST_POSITIONS = 8;
/** A line must gather this many times as many changes as any does with the positions in another order. */
const BEYOND_CHANCE = 1.5;

interface Point {
  readonly position: number;
  readonly frame: number;
  readonly weight: number;
}

function lineThrough(points: readonly Point[]) {
  const frames = points.map(({ frame }) => frame);
  const tolerance = voteTolerance(frames);
  const positions = points.map(({ position }) => position);
  return robustLine(positions, frames, { tolerance, weights: points.map(({ weight }) => weight) });
}

/** A change that the level later takes back to this part, or that takes an earlier one back, belongs to something that
 *  passes: a cloud, a fragment, a glint. */
const TAKEN_BACK = 0.4;

/** Straight lines through the changes of all positions that stay, of one sense of change each, most supported first: the
 *  line that gathers most, then of the changes that are left, and again. Several fronts give several, and so do what
 *  runs ahead of a front and what follows it.
 *  @param splits  shape (positions,)
 *  @param sign  count only changes of this sign; 0: both, each for itself */
export function votedLines(
  splits: readonly (readonly Split[])[],
  frameNumbers: readonly number[],
  sign: -1 | 0 | 1,
): readonly VotedLine[] {
  const least = leastStrength(frameNumbers.length + 1);
  const enough = Math.max(FEWEST_POSITIONS, LEAST_SUPPORT * splits.length);
  return (sign === 0 ? [1, -1] : [sign])
    .flatMap((sense) => {
      let open = splits.flatMap((of, position) =>
        of
          .filter((split, k) => split.strength * sense > 0 && stays(of, k))
          .map(({ column, strength }) => ({
            position,
            column,
            frame: (frameNumbers[column - 1] + frameNumbers[column]) / 2,
            weight: Math.min(Math.abs(strength), 4 * least),
          })),
      );
      const lines: VotedLine[] = [];
      while (lines.length < MOST_LINES && open.length >= enough) {
        const line = lineThrough(open);
        if (!line) break;
        const on = line.support.map((k) => open[k]);
        const byPosition = new Map<number, readonly [number, number]>();
        for (const { position, column } of on)
          byPosition.set(position, [byPosition.get(position)?.[0] ?? column, column]);
        if (byPosition.size < enough) break;
        const byChance = SHUFFLES.map((share) => {
          const order = shuffledOrder(splits.length, share);
          return lineThrough(open.map((point) => ({ ...point, position: order[point.position] })));
        });
        if (byChance.some((other) => other && line.support.length < BEYOND_CHANCE * other.support.length))
          break;
        lines.push({
          frameAtOrigin: line.intercept,
          framesPerPixel: line.slope,
          support: [...byPosition.keys()],
          columns: [...byPosition.values()],
        });
        const taken = new Set(line.support);
        open = open.filter((_, k) => !taken.has(k));
      }
      return lines;
    })
    .sort((a, b) => b.support.length - a.support.length)
    .slice(0, MOST_LINES);
}

/** Whether the level after a change is a new one that lasts. */
function stays(splits: readonly Split[], k: number): boolean {
  const { before, after } = splits[k];
  const change = after - before;
  const isAsBefore = (level: number, reference: number) =>
    Math.abs(level - reference) < TAKEN_BACK * Math.abs(change);
  const isTakenBack = splits.some((other, j) => j > k && isAsBefore(other.after, before));
  const takesBack = splits.some((other, j) => j < k && isAsBefore(after, other.before));
  return !isTakenBack && !takesBack;
}
