import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { followThroughClutter } from "../../src/find/follow-through-clutter.js";
import { arrivalFrame } from "../../src/model/passage.js";
import type { Found } from "../../src/one-front/follow-divided.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import { misfit } from "../../src/one-front/misfit.js";
import { separateFronts } from "../../src/several-fronts/separate-fronts.js";
import { sortReadings } from "../../src/several-fronts/sort-readings.js";
import { streakOf } from "../support/frame-list.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge } from "../support/whole-picture.js";

const COLUMNS = 44;
const options = { sign: 0, exposureFraction: undefined, isPathGiven: false, pause: async () => {} } as const;

function pictures(change: (column: number, time: number) => number) {
  const normal = seededNormal(4);
  return streakOf(
    sourceOf(
      { numbers: frames(44), rows: 4, columns: COLUMNS },
      (_, c, t) => 80 + 40 * change(c, t) + 4 * normal(),
    ),
  );
}

const slopeOf = ({ front }: Found) => front?.line.slope ?? Number.NaN;
const unsureOf = ({ front }: Found) => front?.line.slopeStandardUncertainty ?? Number.NaN;

/** Two fronts of 2 px a frame from either end; they cross in frame 21. */
const crossing = (c: number, t: number) =>
  edge(2 * (t - 10) - c) + 0.8 * edge(2 * (t - 10) - (COLUMNS - 1 - c));

describe("followThroughClutter", () => {
  it("reads the front with levels from close to its passage where the level behind it decays, which leaves less", async () => {
    const streak = await pictures((c, t) => {
      const since = t - 10 - c / 2;
      return edge(2 * since) * (since > 0 ? 0.3 + 0.7 * Math.exp(-since / 8) : 1);
    });
    const found = await followDivided(streak, null, options);
    const readings = await followThroughClutter(streak, found, options);
    const [best] = sortReadings(readings).fronts;
    expect(misfit(best)).toBeLessThan(misfit(found) / 2);
    expect(best.window).not.toBeNull();
    expect(Math.abs(slopeOf(best) - 2)).toBeLessThan(3 * unsureOf(best));
  });

  it("reads both of two fronts that cross", async () => {
    const streak = await pictures(crossing);
    const found = await followDivided(streak, null, options);
    const slopes = (await followThroughClutter(streak, found, options)).map(slopeOf);
    for (const speed of [2, -2])
      expect(slopes.some((slope) => Math.abs(slope / speed - 1) < 0.03)).toBe(true);
  });

  it("reads both edges of a band that passes and takes its change back", async () => {
    const streak = await pictures((c, t) => edge(2 * (t - 8) - c) - edge(2 * (t - 18) - c));
    const found = { ...(await followDivided(streak, null, options)), front: null };
    const readings = await followThroughClutter(streak, found, options);
    const arrivals = readings.map(({ front }) => arrivalFrame(front!.motion, COLUMNS / 2));
    expect(arrivals.map(Math.round).sort()).toEqual([19, 29]);
    for (const slope of readings.map(slopeOf)) expect(Math.abs(slope / 2 - 1)).toBeLessThan(0.03);
  });
});

describe("separateFronts", () => {
  it("follows each where and when the other does not pass, and neither where they cross", async () => {
    const streak = await pictures(crossing);
    const found = await followDivided(streak, null, options);
    const { fronts } = sortReadings(await followThroughClutter(streak, found, options));
    const separate = await separateFronts(streak, fronts, options);
    expect(separate.length).toBe(2);
    const sorted = [...separate].sort((a, b) => slopeOf(b) - slopeOf(a));
    [2, -2].forEach((speed, k) => {
      const { window, front } = sorted[k];
      expect(Math.abs(slopeOf(sorted[k]) - speed)).toBeLessThan(3 * unsureOf(sorted[k]));
      if (!window || !front) throw new Error("expected a window");
      const other = sorted[1 - k].front!.motion;
      for (let p = 0; p < COLUMNS; p++) {
        if (window.end[p] === window.first[p]) continue;
        const passes = arrivalFrame(front.motion, p);
        expect(window.first[p]).toBeLessThan(passes);
        expect(window.end[p]).toBeGreaterThan(passes);
        const otherPasses = arrivalFrame(other, p);
        expect(otherPasses < window.first[p] || otherPasses > window.end[p] - 1).toBe(true);
      }
      // crossed at 21.5 px
      expect(window.end[21]).toBe(window.first[21]);
    });
  });
});
