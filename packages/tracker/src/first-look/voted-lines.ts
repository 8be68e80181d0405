import { median, robustLine } from "@frontpace/fit";
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
  /** Frames until its changes are taken back, or since what they take back came, the median; infinite where most stay, 0
   *  where most are taken back beside another that stays. */
  readonly lastsFrames: number;
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
  readonly column: number;
  readonly frame: number;
  readonly weight: number;
  readonly lastsFrames: number;
}

function lineThrough(points: readonly Point[]) {
  const frames = points.map(({ frame }) => frame);
  const tolerance = voteTolerance(frames);
  const positions = points.map(({ position }) => position);
  const line = robustLine(positions, frames, { tolerance, weights: points.map(({ weight }) => weight) });
  return line && { ...line, tolerance };
}

/** A change does not stay where the level later comes back to this part of it, or where it brings the level back to one
 *  before: the other front of two, or something that passes, a cloud, a fragment, a glint. */
const TAKEN_BACK = 0.4;

/** Straight lines through the changes of all positions, of one sense of change each, most supported first: the line that
 *  gathers most, then of the changes that are left, and again. Several fronts give several, and so do what runs ahead of
 *  a front and what follows it. Changes that stay vote first, then those that are taken back where no other stays: one front
 *  may take back what another changed.
 *  @param splits  shape (positions,)
 *  @param sign  count only changes of this sign; 0: both, each for itself */
export function votedLines(
  splits: readonly (readonly Split[])[],
  frameNumbers: readonly number[],
  sign: -1 | 0 | 1,
): readonly VotedLine[] {
  const least = leastStrength(frameNumbers.length + 1);
  return (sign === 0 ? [1, -1] : [sign])
    .flatMap((sense) => {
      let open = splits.flatMap((of, position) =>
        of.flatMap((split, k): Point[] => {
          const { column, strength } = split;
          if (strength * sense <= 0) return [];
          const frame = (frameNumbers[column - 1] + frameNumbers[column]) / 2;
          const weight = Math.min(Math.abs(strength), 4 * least);
          return [{ position, column, frame, weight, lastsFrames: lastsFrames(of, k, frameNumbers) }];
        }),
      );
      const lines: VotedLine[] = [];
      for (const passing of [false, true]) {
        const mayVote = ({ lastsFrames }: Point) =>
          passing ? lastsFrames > 0 : lastsFrames === Number.POSITIVE_INFINITY;
        while (lines.length < MOST_LINES) {
          const line = mostVoted(open.filter(mayVote), splits.length);
          if (!line) break;
          const isOn = ({ position, frame }: Point) =>
            Math.abs(frame - line.intercept - line.slope * position) < line.tolerance;
          lines.push(lineOf(line, open.filter(isOn)));
          open = open.filter((point) => !isOn(point));
        }
      }
      return lines;
    })
    .sort((a, b) => b.support.length - a.support.length)
    .slice(0, MOST_LINES);
}

/** The line that gathers most of the changes; null where that is too few, or could be by chance. */
function mostVoted(voters: readonly Point[], positions: number): ReturnType<typeof lineThrough> {
  const enough = Math.max(FEWEST_POSITIONS, LEAST_SUPPORT * positions);
  if (voters.length < enough) return null;
  const line = lineThrough(voters);
  if (!line || new Set(line.support.map((k) => voters[k].position)).size < enough) return null;
  const byChance = SHUFFLES.map((share) => {
    const order = shuffledOrder(positions, share);
    return lineThrough(voters.map((point) => ({ ...point, position: order[point.position] })));
  });
  const isByChance = byChance.some(
    (other) => other && line.support.length < BEYOND_CHANCE * other.support.length,
  );
  return isByChance ? null : line;
}

function lineOf({ intercept, slope }: { intercept: number; slope: number }, on: readonly Point[]): VotedLine {
  const byPosition = new Map<number, readonly [number, number]>();
  for (const { position, column } of on)
    byPosition.set(position, [byPosition.get(position)?.[0] ?? column, column]);
  return {
    frameAtOrigin: intercept,
    framesPerPixel: slope,
    support: [...byPosition.keys()],
    columns: [...byPosition.values()],
    lastsFrames: median(on.map(({ lastsFrames }) => lastsFrames)),
  };
}

/** Frames from a change to that which takes it back, or from that which it takes back; infinite where it stays. 0: it does
 *  not at a position at which another change stays, and so belongs to something that passes there. */
function lastsFrames(splits: readonly Split[], k: number, frameNumbers: readonly number[]): number {
  if (stays(splits, k)) return Number.POSITIVE_INFINITY;
  if (splits.some((_, j) => stays(splits, j))) return 0;
  const apart = (j: number) => Math.abs(frameNumbers[splits[j].column] - frameNumbers[splits[k].column]);
  return Math.min(...counterpartsOf(splits, k).map(apart));
}

/** Whether the level after a change is a new one that lasts: what comes later may take it further or back for a while, but
 *  the last level is not that before it again; nor does it, with those of its sense that follow at once, bring back a
 *  level that was there before. */
function stays(splits: readonly Split[], k: number): boolean {
  const { before, after } = splits[k];
  const sense = Math.sign(after - before);
  const last = splits[splits.length - 1].after;
  if ((last - before) * sense < TAKEN_BACK * Math.abs(after - before)) return false;
  let end = k;
  while (end + 1 < splits.length && splits[end + 1].strength * sense > 0) end++;
  const reached = splits[end].after;
  return !splits.some(
    (other, j) => j < k && Math.abs(reached - other.before) < TAKEN_BACK * Math.abs(reached - before),
  );
}

/** Indices of the next change that takes this one back and of the last one that it takes back. */
function counterpartsOf(splits: readonly Split[], k: number): readonly number[] {
  const { before, after } = splits[k];
  const isAsBefore = (level: number, reference: number) =>
    Math.abs(level - reference) < TAKEN_BACK * Math.abs(after - before);
  return [
    splits.findIndex((other, j) => j > k && isAsBefore(other.after, before)),
    splits.findLastIndex((other, j) => j < k && isAsBefore(after, other.before)),
  ].filter((j) => j >= 0);
}
