import { describe, expect, it } from "vitest";
import { seededUniform } from "../../../../test/support/seeded-normal.js";
import type { Split } from "../../src/first-look/change-in-time.js";
import { type VotedLine, votedLines } from "../../src/first-look/voted-lines.js";
import { frames } from "../support/track.js";

const NUMBERS = frames(80);
const POSITIONS = 120;

interface Change {
  readonly column: number;
  readonly strength: number;
}

/** Splits at every position from the lines that change it, in order of time; levels add up. */
function splitsOf(...lines: readonly ((position: number) => Change | null)[]): Split[][] {
  return Array.from({ length: POSITIONS }, (_, p) => {
    const changes = lines.flatMap((line) => line(p) ?? []).sort((a, b) => a.column - b.column);
    return changes.map((change, k) => {
      const before = changes.slice(0, k).reduce((sum, { strength }) => sum + strength, 0);
      return { ...change, before, after: before + change.strength };
    });
  });
}

/** A change between frames column − 1 and column, nearest to the line. */
const along =
  (frameAtOrigin: number, framesPerPixel: number, strength = 20) =>
  (p: number): Change => ({ column: Math.round(frameAtOrigin + framesPerPixel * p + 0.5), strength });

/** Off the drawn line by rounding to whole frames only: half a frame at either end. */
function expectLine(line: VotedLine, frameAtOrigin: number, framesPerPixel: number): void {
  for (const p of [0, POSITIONS - 1]) {
    const miss = line.frameAtOrigin + line.framesPerPixel * p - (frameAtOrigin + framesPerPixel * p);
    expect(Math.abs(miss)).toBeLessThan(0.5);
  }
}

describe("votedLines", () => {
  it("finds both of two lines that cross, each supported by its own changes", () => {
    const lines = votedLines(splitsOf(along(10, 0.5), along(72, -0.4)), NUMBERS, 0);
    expect(lines.length).toBe(2);
    const [up, down] = [...lines].sort((a, b) => b.framesPerPixel - a.framesPerPixel);
    expectLine(up, 10, 0.5);
    expectLine(down, 72, -0.4);
    for (const { support, columns, frameAtOrigin, framesPerPixel } of lines) {
      expect(support.length).toBeGreaterThan(0.85 * POSITIONS);
      support.forEach((p, k) => {
        if (k > 0) expect(p).toBeGreaterThan(support[k - 1]);
        // the tolerance of the vote: 6 % of the frames from the first to the last change
        expect(Math.abs(columns[k][0] - 0.5 - frameAtOrigin - framesPerPixel * p)).toBeLessThan(0.06 * 80);
      });
    }
  });

  it("keeps brighter and darker changes apart, and counts only those of the sign that is wanted", () => {
    const splits = splitsOf((p) => (p < 70 ? along(10, 0.3)(p) : along(30, 0.3, -20)(p)));
    const [one, other] = votedLines(splits, NUMBERS, 0);
    expect([one.support.length, other.support.length]).toEqual([70, 50]);
    const bright = votedLines(splits, NUMBERS, 1);
    const dark = votedLines(splits, NUMBERS, -1);
    expect([bright.length, dark.length]).toEqual([1, 1]);
    expectLine(bright[0], 10, 0.3);
    expectLine(dark[0], 30, 0.3);
  });

  it("finds none in changes scattered over a third of the positions", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const uniform = seededUniform(seed);
      const scattered = splitsOf(() =>
        uniform() < 1 / 3 ? { column: 1 + Math.floor(79 * uniform()), strength: 20 } : null,
      );
      expect(votedLines(scattered, NUMBERS, 0)).toEqual([]);
    }
  });

  it("finds the one line through them where another third of the positions is on it", () => {
    const uniform = seededUniform(3);
    const lines = votedLines(
      splitsOf(
        (p) => (p < 60 ? along(20, 0.6)(p) : null),
        () => (uniform() < 1 / 3 ? { column: 1 + Math.floor(79 * uniform()), strength: 20 } : null),
      ),
      NUMBERS,
      0,
    );
    expect(lines.length).toBe(1);
    expect(Math.abs(lines[0].framesPerPixel - 0.6)).toBeLessThan(0.02);
  });

  it("says how long changes last that another takes back, and that the others stay", () => {
    const back = (strength: number) =>
      votedLines(splitsOf(along(10, 0.3), along(30, 0.3, strength)), NUMBERS, 0).map(
        ({ lastsFrames }) => lastsFrames,
      );
    expect(back(-20)).toEqual([20, 20]);
    expect(back(-8)).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
    expect(back(20)).toEqual([Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]);
  });

  it("gives no vote to what is taken back where another change stays, as by a fragment behind a front", () => {
    const lines = votedLines(splitsOf(along(5, 0.3), along(20, 0.3, 30), along(35, 0.3, -30)), NUMBERS, 0);
    expect(lines.length).toBe(1);
    expectLine(lines[0], 5, 0.3);
  });

  it("takes what is taken back onto the line of the changes that stay", () => {
    // On two thirds of the path a second line takes the first one back.
    const [first, second] = votedLines(
      splitsOf(along(10, 0.3), (p) => (p < 80 ? along(30, 0.3, -20)(p) : null)),
      NUMBERS,
      0,
    );
    expectLine(first, 10, 0.3);
    expect(first.support.length).toBe(POSITIONS);
    expect([second.support.length, second.lastsFrames]).toEqual([80, 20]);
  });

  it.each([1, -1])("finds the front alone where a cloud, bright or dark, passes behind it (%d)", (sense) => {
    // smooth, so that it rises in two steps and falls in two
    const cloud = [14, 16, -16, -14].map((strength, k) => along(25 + 4 * k, 0.4, sense * strength));
    const lines = votedLines(splitsOf(along(10, 0.3), ...cloud), NUMBERS, 0);
    expect(lines.length).toBe(1);
    expectLine(lines[0], 10, 0.3);
  });

  it("mirrors the lines where the positions are mirrored", () => {
    const splits = splitsOf(along(10, 0.5), along(60, 0.1));
    const plain = votedLines(splits, NUMBERS, 0);
    const mirrored = votedLines([...splits].reverse(), NUMBERS, 0);
    expect(plain.length).toBe(2);
    plain.forEach((line, k) => {
      expect(Math.abs(mirrored[k].framesPerPixel + line.framesPerPixel)).toBeLessThan(0.01);
    });
  });

  it("finds none where too little changes, or at one position only", () => {
    expect(votedLines(splitsOf(), NUMBERS, 0)).toEqual([]);
    const onePosition = splitsOf((p) => (p === 7 ? { column: 9, strength: 20 } : null));
    expect(votedLines(onePosition, NUMBERS, 0)).toEqual([]);
    const few = splitsOf((p) => (p < 17 ? along(10, 0.5)(p) : null));
    expect(votedLines(few, NUMBERS, 0)).toEqual([]);
  });
});
