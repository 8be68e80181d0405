import { describe, expect, it } from "vitest";
import { randomFrom } from "../../../../scripts/random.js";
import { bentWay } from "../../src/first-look/bent-way.js";
import type { ChangeInTime } from "../../src/first-look/change-in-time.js";

const POSITIONS = 200;
const FRAMES = 120;
const numbers = Array.from({ length: FRAMES }, (_, frame) => frame);

describe("the way of one front", () => {
  it("that speeds up is told within a few pixels, and goes on beyond its ends", () => {
    const position = (frame: number) => 0.5 * (frame - 10) + 0.011 * (frame - 10) ** 2;
    const way = bentWay(changesAt(arrivalsOn(position)), numbers);
    expect(way?.sense).toBe(1);
    for (const frame of [20, 50, 80, 100])
      expect(Math.abs((way?.positionAt(frame) ?? 0) - position(frame))).toBeLessThan(3);
    expect(way?.positionAt(125)).toBeGreaterThan(position(122));
  });

  it("that runs back along the path has the other sense", () => {
    const position = (frame: number) => POSITIONS - 0.5 * (frame - 10) - 0.011 * (frame - 10) ** 2;
    const way = bentWay(changesAt(arrivalsOn(position)), numbers);
    expect(way?.sense).toBe(-1);
    expect(Math.abs((way?.positionAt(60) ?? 0) - position(60))).toBeLessThan(3);
  });

  it("is there beside positions that change at any time, while they are few", () => {
    const { integer } = randomFrom(5);
    const arrivals = arrivalsOn((frame) => 2 * frame - 20);
    const some = arrivals.map((frame, p) => (p % 8 === 0 ? integer(1, FRAMES - 1) : frame));
    const many = arrivals.map((frame, p) => (p % 3 === 0 ? integer(1, FRAMES - 1) : frame));
    expect(bentWay(changesAt(some), numbers)).not.toBeNull();
    expect(bentWay(changesAt(many), numbers)).toBeNull();
  });

  it.each([
    ["positions that change in no order", () => randomFrom(3).integer],
    ["positions that all change within a few frames", () => () => 60],
  ])("is not there in %s", (_, drawn) => {
    const integer = drawn();
    const arrivals = Array.from({ length: POSITIONS }, () => integer(1, FRAMES - 1));
    expect(bentWay(changesAt(arrivals), numbers)).toBeNull();
  });

  it("is not there where few positions change", () => {
    const arrivals = arrivalsOn((frame) => frame);
    expect(bentWay(changesAt(arrivals.map((frame, p) => (p % 3 ? -1 : frame))), numbers)).toBeNull();
  });
});

/** First frame in which the front has passed each position. */
function arrivalsOn(position: (frame: number) => number): number[] {
  const forwards = position(FRAMES) > position(0);
  return Array.from({ length: POSITIONS }, (_, p) =>
    numbers.findIndex((frame) => frame > 0 && (forwards ? position(frame) > p : position(frame) < p)),
  );
}

/** One change at every position, before the frame given; −1: none. */
function changesAt(arrivals: readonly number[]): ChangeInTime {
  const columns = FRAMES + 1;
  const strength = new Float64Array(POSITIONS * columns);
  arrivals.forEach((column, p) => {
    if (column >= 0) strength[p * columns + column] = 40;
  });
  return { shape: "step", strength, positions: POSITIONS, columns, strongest: Int32Array.from(arrivals) };
}
