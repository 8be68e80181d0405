import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import { followWithinEnds } from "../../src/one-front/follow-within-ends.js";
import { streakOf } from "../support/frame-list.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";

const COLUMNS = 80;
const SPEED = 1.25;
const BLUR = 2.5;
const options = { sign: 0, exposureFraction: undefined, isPathGiven: false, pause: async () => {} } as const;
// a logistic edge of the slope of a normal one
const edge = (behind: number) => 1 / (1 + Math.exp((-1.7 * behind) / BLUR));

/** A front that would stand at −6 px in frame 0, on a part of the path. */
function take(
  begins: number,
  ends: number,
  seed: number,
  cracks: (column: number) => number = () => 1,
  { from, speed } = { from: -6, speed: SPEED },
) {
  const normal = seededNormal(seed);
  return streakOf(
    sourceOf({ numbers: frames(84), rows: 6, columns: COLUMNS }, (_, c, time) => {
      const at = Math.min(from + speed * time, ends);
      const changed = Math.max(0, edge(at - c) - edge(begins - c));
      return 80 + 40 * cracks(c) * changed + 4 * normal();
    }),
  );
}

const OUTSIDE = 1e3;

describe("followWithinEnds", () => {
  it.each([
    ["begins inside the picture", 30, OUTSIDE],
    ["ends inside the picture", -OUTSIDE, 45],
    ["begins and ends inside the picture", 15, 68],
  ])(
    "a front that %s is as fast as it ran, and the frames in which it does not run are left out",
    async (_, begins, ends) => {
      for (const seed of [1, 2, 3]) {
        const streak = await take(begins, ends, seed);
        const within = await followWithinEnds(streak, await followDivided(streak, null, options), options);
        if (!within.front) throw new Error("expected a front");
        const { line, frames: shown } = within.front;
        // followed through the whole take it is told to 3-5 %, and 5-15 % too fast
        expect(line.slopeStandardUncertainty).toBeLessThan(0.01 * SPEED);
        expect(Math.abs(line.slope - SPEED)).toBeLessThan(3 * line.slopeStandardUncertainty);
        const at = shown.map((frame) => SPEED * within.kept[frame] - 6);
        expect(Math.min(...at)).toBeGreaterThanOrEqual(begins);
        expect(Math.max(...at)).toBeLessThanOrEqual(ends);
      }
    },
  );

  it("a way of a few widths is told by the frames next to its end, which leaves more of the path than it ran", async () => {
    const short = { from: 25, speed: 0.325 };
    const ends = 40;
    for (const seed of [1, 2, 3, 4]) {
      const streak = await take(-OUTSIDE, ends, seed, () => 1, short);
      const within = await followWithinEnds(streak, await followDivided(streak, null, options), options);
      if (!within.front) throw new Error("expected a front");
      const { line, frames: shown } = within.front;
      expect(line.slopeStandardUncertainty).toBeLessThan(0.05 * short.speed);
      expect(Math.abs(line.slope - short.speed)).toBeLessThan(3 * line.slopeStandardUncertainty);
      const last = short.from + short.speed * within.kept[shown[shown.length - 1]];
      expect(last).toBeGreaterThan(ends - 2 * BLUR);
      expect(last).toBeLessThanOrEqual(ends);
    }
  });

  it("one that enters and leaves by the ends of the path is left as it is", async () => {
    const streak = await take(-OUTSIDE, OUTSIDE, 4);
    const found = await followDivided(streak, null, options);
    expect(found.front).not.toBeNull();
    expect(await followWithinEnds(streak, found, options)).toBe(found);
  });

  it("positions that change in the other sense have been passed, too", async () => {
    const streak = await take(-OUTSIDE, OUTSIDE, 5, (column) => (column < 20 ? -1 : 1));
    const found = await followDivided(streak, null, options);
    expect(found.front).not.toBeNull();
    expect(await followWithinEnds(streak, found, options)).toBe(found);
  });
});
