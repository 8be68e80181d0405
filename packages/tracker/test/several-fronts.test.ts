import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { sourceOf } from "./support/render.js";
import { seededNormal } from "./support/seeded-normal.js";
import { frames } from "./support/track.js";

const COLUMNS = 140;
const edge = (behind: number) => 1 / (1 + Math.exp(-1.7 * behind));
const first = (time: number) => -10 + 3.1 * time;

/** Two bright fronts, or one and what else changes, over an even picture with noise. */
function pictureOf(change: (column: number, time: number) => number, seed = 4) {
  const normal = seededNormal(seed);
  return sourceOf(
    { numbers: frames(60), rows: 12, columns: COLUMNS },
    (_, column, time) => 80 + 40 * change(column, time) + 6 * normal(),
  );
}

const SECOND = {
  "from the other end, until they meet": (c: number, t: number) =>
    Math.max(edge(first(t) - c), edge(2.4 * (t - 4) - (COLUMNS - 1 - c))),
  "from the other end, and across": (c: number, t: number) =>
    edge(first(t) - c) + 0.8 * edge(2.4 * (t - 4) - (COLUMNS - 1 - c)),
  "overtaking it": (c: number, t: number) => edge(first(t) - c) + 0.7 * edge(7 * (t - 17) - c),
  "behind it": (c: number, t: number) => edge(first(t) - c) + 0.8 * edge(2.7 * (t - 15) - c),
};
const SPEED = {
  "from the other end, until they meet": -2.4,
  "from the other end, and across": -2.4,
  "overtaking it": 7,
  "behind it": 2.7,
};

describe("a second front on the path", () => {
  it.each(Object.keys(SECOND) as (keyof typeof SECOND)[])(
    "%s: no speed without a choice, both lines listed; with a choice either is measured",
    async (name) => {
      const source = pictureOf(SECOND[name]);
      const outcome = await trackFront(source);
      expect(outcome).toMatchObject({ status: "not-found", reason: "several-fronts" });
      const speeds = [3.1, SPEED[name]];
      for (const front of [1, 2]) {
        const chosen = await trackFront(source, { front });
        if (chosen.status !== "tracked") throw new Error(`expected a front, got ${chosen.status}`);
        expect(chosen.fronts.length).toBe(2);
        const { slopePixelsPerFrame, standardUncertaintyPixelsPerFrame } = chosen.track.line;
        const misses = speeds.map((speed) => Math.abs(slopePixelsPerFrame - speed));
        const [speed] = speeds.splice(misses.indexOf(Math.min(...misses)), 1);
        // four standard uncertainties: eight readings, each missed by chance once in some 15,000
        expect(Math.abs(slopePixelsPerFrame - speed)).toBeLessThan(4 * standardUncertaintyPixelsPerFrame);
      }
    },
  );

  it("a third one that is asked for is not there", async () => {
    const outcome = await trackFront(pictureOf(SECOND["behind it"]), { front: 3 });
    expect(outcome).toMatchObject({ status: "not-found", reason: "front-not-there" });
  });
});

describe("one front with changes of other kinds", () => {
  it.each([
    [
      "a level that decays behind it",
      (c: number, t: number) => {
        const since = t - (c + 10) / 3.1;
        return edge(first(t) - c) * (since > 0 ? 0.4 + 0.6 * Math.exp(-since / 9) : 1);
      },
    ],
    [
      "a cloud that passes later",
      (c: number, t: number) => edge(first(t) - c) + 0.9 * Math.exp(-0.5 * ((t - 22 - c / 2.6) / 5) ** 2),
    ],
    [
      "brighter patches later",
      (c: number, t: number) =>
        edge(first(t) - c) + (t > (c + 10) / 3.1 + 6 + ((Math.floor(c / 9) * 37) % 23) ? 2 : 0),
    ],
  ])("%s: is one front, measured within four standard uncertainties", async (_, change) => {
    const outcome = await trackFront(pictureOf(change));
    if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
    const { slopePixelsPerFrame, standardUncertaintyPixelsPerFrame } = outcome.track.line;
    expect(Math.abs(slopePixelsPerFrame - 3.1)).toBeLessThan(4 * standardUncertaintyPixelsPerFrame);
    expect(standardUncertaintyPixelsPerFrame).toBeLessThan(0.05);
  });
});
