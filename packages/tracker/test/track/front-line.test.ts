import { describe, expect, it } from "vitest";
import type { StripedStreak } from "../../src/streak/read-streak.js";
import { alternativesOf, frontLine, lineInWords } from "../../src/track/front-line.js";
import { reading } from "../support/reading.js";

/** A line needs nothing of a streak but the numbers of its frames. */
const numbers = Array.from({ length: 60 }, (_, i) => 100 + i);
const streak = { frameNumbers: numbers, storedNumbers: numbers } as unknown as StripedStreak;
const front = reading({ slopePixelsPerFrame: 3, interceptPixels: -300, frames: [2, 30] });

describe("frontLine", () => {
  it("runs from where the line is in the first frame used to where it is in the last, by number", () => {
    const line = frontLine(streak, front);
    expect(line).toMatchObject({ firstFrame: 102, lastFrame: 130, fromPixels: 6, toPixels: 90 });
    expect(lineInWords(line!, streak)).toBe("from 6 px in frame 102 to 90 px in frame 130, 3.00 px a frame");
    expect(lineInWords({ ...line!, slopePixelsPerFrame: -3 }, streak)).toMatch(/, 3.00 px a frame$/);
    expect(frontLine(streak, { ...front, front: null })).toBeNull();
  });

  it("counts in the frames that were worked on: one left out before moves the numbers by one", () => {
    const kept = front.kept.filter((frame) => frame !== 1);
    expect(frontLine(streak, { ...front, kept })).toMatchObject({ firstFrame: 103, lastFrame: 131 });
  });
});

describe("lineInWords", () => {
  it("names frames by the numbers of their files, also where a table tells their times", () => {
    const timed = { ...streak, frameNumbers: numbers.map((number) => 5e9 + 1.01 * number) };
    expect(lineInWords(frontLine(timed, front)!, timed)).toMatch(
      /^from .* in frame 102 to .* in frame 130, /,
    );
  });
});

describe("alternativesOf", () => {
  const slopes = (...others: Parameters<typeof reading>[0][]) =>
    alternativesOf(streak, front, others.map(reading)).map((line) => line.slopePixelsPerFrame);

  it("names other readings whose speed differs for certain, and materially", () => {
    expect(slopes({ slopePixelsPerFrame: 3.3 }, { slopePixelsPerFrame: 2.5 })).toEqual([3.3, 2.5]);
  });

  it("names none that could be the same speed, that differs by a per cent, that is unsure or seen elsewhere", () => {
    expect(slopes({ slopePixelsPerFrame: 3.3, unsure: 0.04 })).toEqual([]);
    expect(slopes({ slopePixelsPerFrame: 3.03 })).toEqual([]);
    expect(slopes({ slopePixelsPerFrame: 4, unsure: 0.06 })).toEqual([]);
    expect(slopes({ slopePixelsPerFrame: 3.3, change: (p) => (p < 40 ? 40 : 0) })).toEqual([]);
    expect(slopes({ slopePixelsPerFrame: 3.3, change: (p) => (p < 41 ? 40 : 0) })).toEqual([3.3]);
  });

  it("names none of a front that was not followed", () => {
    expect(alternativesOf(streak, { ...front, front: null }, [reading({ slopePixelsPerFrame: 5 })])).toEqual(
      [],
    );
  });
});
