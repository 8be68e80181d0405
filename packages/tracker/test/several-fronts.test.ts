import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { type FrontLine, trackFront } from "../src/index.js";
import { sourceOf } from "./support/render.js";
import { frames } from "./support/track.js";
import { edge, wholePicture } from "./support/whole-picture.js";

const COLUMNS = 64;
const ROWS = 6;
const WHOLE = wholePicture(ROWS, COLUMNS);
const first = (time: number) => -6 + 2.5 * time;

/** Two bright fronts, or one and what else changes, over an even picture with noise. */
function pictureOf(change: (column: number, time: number) => number) {
  const normal = seededNormal(4);
  return sourceOf(
    { numbers: frames(36), rows: ROWS, columns: COLUMNS },
    (_, column, time) => 80 + 40 * change(column, time) + 4.2 * normal(),
  );
}

const behindIt = (c: number, t: number) => edge(first(t) - c) + 0.8 * edge(2.1 * (t - 11) - c);

// four standard uncertainties: sixteen readings, each missed by chance once in some 15,000
function expectCovered(line: FrontLine | undefined, speed: number): void {
  if (!line) throw new Error(`expected a line of ${speed} px a frame`);
  const miss = Math.abs(line.slopePixelsPerFrame - speed);
  expect(miss, `${line.slopePixelsPerFrame} against ${speed}`).toBeLessThan(
    4 * line.standardUncertaintyPixelsPerFrame,
  );
  expect(line.standardUncertaintyPixelsPerFrame).toBeLessThan(0.02 * Math.abs(speed));
}

describe("a second front on the path", () => {
  it.each([
    [
      "from the other end, until they meet",
      -2.1,
      (c: number, t: number) => Math.max(edge(first(t) - c), edge(2.1 * (t - 3) - (COLUMNS - 1 - c))),
    ],
    [
      "from the other end, and across",
      -2.1,
      (c: number, t: number) => edge(first(t) - c) + 0.8 * edge(2.1 * (t - 3) - (COLUMNS - 1 - c)),
    ],
    ["overtaking it", 6, (c: number, t: number) => edge(first(t) - c) + 0.7 * edge(6 * (t - 12) - c)],
    ["behind it", 2.1, behindIt],
    [
      "behind it, taking its change back",
      2.1,
      (c: number, t: number) => edge(first(t) - c) - edge(2.1 * (t - 11) - c),
    ],
    [
      "from the other end, taking most of its change back",
      -2.1,
      (c: number, t: number) => edge(first(t) - c) - 0.62 * edge(2.1 * (t - 3) - (COLUMNS - 1 - c)),
    ],
  ])(
    "%s: no speed without a choice, and both lines listed, each as fast as it ran",
    async (_, second, change) => {
      const outcome = await trackFront(pictureOf(change), WHOLE);
      if (outcome.status !== "not-found") throw new Error(`expected no speed, got ${outcome.status}`);
      expect(outcome.reason).toBe("several-fronts");
      const lines = outcome.fronts ?? [];
      expect(lines.length).toBe(2);
      const away = (speed: number) => (line: FrontLine) => Math.abs(line.slopePixelsPerFrame - speed);
      const nearest = (speed: number) =>
        lines.reduce((best, line) => (away(speed)(line) < away(speed)(best) ? line : best));
      expect(nearest(2.5)).not.toBe(nearest(second));
      expectCovered(nearest(2.5), 2.5);
      expectCovered(nearest(second), second);
      // in the order in which they are first seen
      expect(lines[0].firstFrame).toBeLessThanOrEqual(lines[1].firstFrame);
      expect(outcome.message).toContain("one speed does not describe them");
    },
  );

  it("as fast as the first, taking its change back: they may be the edges of one band, which is said, and either has its speed", async () => {
    const source = pictureOf((c, t) => edge(first(t) - c) - edge(first(t) - 18 - c));
    const outcome = await trackFront(source, WHOLE);
    if (outcome.status !== "not-found") throw new Error(`expected no speed, got ${outcome.status}`);
    expect(outcome.reason).toBe("several-fronts");
    expect(outcome.message).toContain("they run at one speed, and may be the two edges of one band");
    for (const front of [1, 2]) {
      const chosen = await trackFront(source, { ...WHOLE, front });
      if (chosen.status !== "tracked") throw new Error(`expected a front, got ${chosen.status}`);
      expectCovered(chosen.fronts[front - 1], 2.5);
    }
  });

  it("a front that is chosen is measured by itself, and is the line that was listed under its number; a third is not there", async () => {
    const source = pictureOf(behindIt);
    const listed = [];
    for (const front of [1, 2]) {
      const chosen = await trackFront(source, { ...WHOLE, front });
      if (chosen.status !== "tracked") throw new Error(`expected a front, got ${chosen.status}`);
      expect(chosen.track.line).toMatchObject({
        slopePixelsPerFrame: chosen.fronts[front - 1].slopePixelsPerFrame,
        standardUncertaintyPixelsPerFrame: chosen.fronts[front - 1].standardUncertaintyPixelsPerFrame,
      });
      expectCovered(chosen.fronts[front - 1], [2.5, 2.1][front - 1]);
      listed.push(chosen.fronts);
    }
    expect(listed[0]).toEqual(listed[1]);
    const third = await trackFront(source, { ...WHOLE, front: 3 });
    expect(third).toMatchObject({ status: "not-found", reason: "front-not-there", fronts: listed[0] });
    if (third.status === "not-found") expect(third.message).toContain("2 fronts are seen");
  });
});

it("two fronts as strong that cross, either of which hides the other on the whole: both are listed", async () => {
  const normal = seededNormal(9);
  const source = sourceOf(
    { numbers: frames(80), rows: 40, columns: 200, bitDepth: 8 },
    (_, column, time) =>
      80 + 40 * (edge(3.7 * (time - 8.3) - column) + edge(column - 200 + 3.1 * (time - 10.6))) + 2 * normal(),
  );
  const outcome = await trackFront(source);
  expect(outcome).toMatchObject({ status: "not-found", reason: "several-fronts" });
  if (outcome.status !== "not-found") return;
  const speeds = (outcome.fronts ?? []).map(({ slopePixelsPerFrame }) => slopePixelsPerFrame);
  expect(speeds).toHaveLength(2);
  expect(Math.abs(Math.max(...speeds) - 3.7)).toBeLessThan(0.02);
  expect(Math.abs(Math.min(...speeds) + 3.1)).toBeLessThan(0.02);
});

describe("one front with changes of other kinds", () => {
  it.each([
    [
      "a level that decays behind it",
      (c: number, t: number) => {
        const since = t - (c + 6) / 2.5;
        return edge(first(t) - c) * (since > 0 ? 0.4 + 0.6 * Math.exp(-since / 9) : 1);
      },
    ],
    [
      "a cloud that passes later",
      (c: number, t: number) => edge(first(t) - c) + 0.9 * Math.exp(-0.5 * ((t - 20 - c / 2.3) / 4) ** 2),
    ],
    [
      "brighter patches later",
      (c: number, t: number) =>
        edge(first(t) - c) + (t > (c + 6) / 2.5 + 6 + ((Math.floor(c / 5) * 37) % 23) ? 2 : 0),
    ],
  ])("%s: is one front, measured within four standard uncertainties", async (_, change) => {
    const outcome = await trackFront(pictureOf(change), WHOLE);
    if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
    expect(outcome.fronts.length).toBe(1);
    expect(outcome.warnings.map(({ code }) => code)).not.toContain("few-frames");
    expectCovered(outcome.fronts[0], 2.5);
  });
});
