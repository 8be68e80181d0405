import { robustLine } from "@frontpace/fit";
import type { ChangeInTime } from "./change-in-time.js";

/** A first straight line through frame of change against position, and how sure it is that something moved. */
export interface FirstLine {
  /** Frame number of change at position 0, and frames a px. */
  readonly frameAtOrigin: number;
  readonly framesPerPixel: number;
  /** Positions whose own strongest change lies on the line, increasing. */
  readonly support: readonly number[];
  /** Positions whose own strongest change is significant, wherever it lies. */
  readonly changed: number;
  /** Squared strengths summed along the line. */
  readonly evidence: number;
  /** The same along the best line of one and the same frame for every position. */
  readonly commonEvidence: number;
  /** Positions the line crosses within the take. */
  readonly crossed: number;
}

/** Strength, in units of the noise, from which a change at one position counts: noise alone exceeds it with a chance
 *  of less than 1 in 400 whatever the number of frames it was the largest of (exp(−x²/2) summed over them). */
export function leastStrength(columns: number): number {
  return Math.sqrt(2 * Math.log(columns) + 12);
}

/** Frame number of the change that column k stands for. */
export function frameOfColumn(
  change: Pick<ChangeInTime, "shape">,
  frameNumbers: readonly number[],
  k: number,
): number {
  if (change.shape === "pulse") return frameNumbers[Math.min(k, frameNumbers.length - 1)];
  return (frameNumbers[k - 1] + frameNumbers[k]) / 2;
}

/** Votes for the line through the positions whose change is significant.
 *  @returns null where fewer than 4 positions changed */
export function firstLine(change: ChangeInTime, frameNumbers: readonly number[]): FirstLine | null {
  const { positions, columns, strength, strongest } = change;
  const least = leastStrength(columns);
  const x: number[] = [];
  const t: number[] = [];
  const weights: number[] = [];
  for (let p = 0; p < positions; p++) {
    const k = strongest[p];
    if (k < 0) continue;
    const size = Math.abs(strength[p * columns + k]);
    if (size < least) continue;
    x.push(p);
    t.push(frameOfColumn(change, frameNumbers, k));
    weights.push(Math.min(size, 4 * least));
  }
  if (x.length < 4) return null;
  const line = robustLine(x, t, { tolerance: voteTolerance(t), weights });
  if (!line) return null;
  const { evidence, crossed } = evidenceAlong(change, frameNumbers, line.intercept, line.slope);
  return {
    frameAtOrigin: line.intercept,
    framesPerPixel: line.slope,
    support: line.support.map((k) => x[k]),
    changed: x.length,
    evidence,
    crossed,
    commonEvidence: commonEvidence(change),
  };
}

/** How far from a line a frame of change may lie to vote for it: a frame, or a part of the range of most of them. */
export function voteTolerance(frames: readonly number[]): number {
  const sorted = [...frames].sort((a, b) => a - b);
  const range =
    sorted[Math.floor(0.95 * (sorted.length - 1))] - sorted[Math.floor(0.05 * (sorted.length - 1))];
  return Math.max(1.01, 0.06 * range);
}

/** Squared strength summed over positions at the frame where the line crosses each. */
function evidenceAlong(
  change: ChangeInTime,
  frameNumbers: readonly number[],
  frameAtOrigin: number,
  framesPerPixel: number,
): { evidence: number; crossed: number } {
  const { positions, columns, strength, shape } = change;
  const last = frameNumbers.length - 1;
  let evidence = 0;
  let crossed = 0;
  for (let p = 0; p < positions; p++) {
    const frame = frameAtOrigin + framesPerPixel * p;
    if (frame < frameNumbers[0] || frame > frameNumbers[last]) continue;
    let index = 0;
    let high = last;
    while (index < high) {
      const middle = (index + high) >> 1;
      if (frameNumbers[middle] < frame) index = middle + 1;
      else high = middle;
    }
    const value = strength[p * columns + (shape === "step" ? Math.max(1, index) : index)];
    evidence += value * value;
    crossed++;
  }
  return { evidence, crossed };
}

function commonEvidence({ positions, columns, strength }: ChangeInTime): number {
  const sums = new Float64Array(columns);
  for (let p = 0, at = 0; p < positions; p++)
    for (let k = 0; k < columns; k++, at++) sums[k] += strength[at] * strength[at];
  return sums.reduce((most, sum) => Math.max(most, sum), 0);
}

/** Whether what lies along the line is more than noise, and more than one change everywhere at once. Under noise
 *  alone the evidence is chi-squared with one degree of freedom a position; the margins allow for the many lines
 *  looked at. */
export function judgeLine(line: FirstLine | null, positions: number): "front" | "at-once" | "nothing" {
  const chance = (count: number) => count + 6 * Math.sqrt(2 * count) + 40;
  if (line && line.evidence > chance(line.crossed)) {
    if (line.evidence - line.commonEvidence > 40 + 0.02 * line.commonEvidence) return "front";
    return "at-once";
  }
  return line && line.commonEvidence > chance(positions) ? "at-once" : "nothing";
}
