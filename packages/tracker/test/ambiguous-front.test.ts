import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { trackFront } from "../src/index.js";
import { type Found, followDivided } from "../src/one-front/follow-divided.js";
import { describeTrack } from "../src/track/describe-track.js";
import { streakOf } from "./support/frame-list.js";
import { reading } from "./support/reading.js";
import { sourceOf } from "./support/render.js";
import { frames } from "./support/track.js";
import { edge } from "./support/whole-picture.js";

const COLUMNS = 48;
const SPEED = 2.1;
const front = (c: number, t: number) => edge(SPEED * t - 2 - c);
/** A cloud nearly as bright that follows, falls back and passes. */
const cloud = (c: number, t: number) => 0.9 * Math.exp(-0.5 * ((t - 20 - c / 1.9) / 4) ** 2);

function pictures(change: (column: number, time: number) => number, noise: number) {
  const normal = seededNormal(4);
  return sourceOf(
    { numbers: frames(56), rows: 6, columns: COLUMNS },
    (_, c, t) => 80 + 40 * change(c, t) + noise * normal(),
  );
}

async function outcomeOf(change: (column: number, time: number) => number, noise: number) {
  const outcome = await trackFront(pictures(change, noise), {
    path: [
      [0, 2.5],
      [COLUMNS - 1, 2.5],
    ],
    width: 6,
  });
  if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
  return outcome;
}

describe("ambiguous-front", () => {
  it("is raised where another reading of the front lies on another line, and both are given", async () => {
    const source = pictures(front, 2);
    const streak = await streakOf(source);
    const options = {
      sign: 0,
      exposureFraction: undefined,
      isPathGiven: false,
      pause: async () => {},
    } as const;
    const found = await followDivided(streak, null, options);
    const described = (...others: Found[]) => {
      const timeBase = { notEvaluated: "by hand" };
      const motion = { shift: null, kept: null, isLeft: false, acrossPixels: null, asRead: streak };
      const inChannel = { streak, readings: { fronts: [found], others }, timeBase, warnings: [], motion };
      const outcome = describeTrack({ ...inChannel, channel: "brightness" }, found, found.front!, {});
      if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
      const warning = outcome.warnings.find(({ code }) => code === "ambiguous-front");
      return { ...outcome, message: warning?.message };
    };
    const positions = COLUMNS;
    const slower = described(reading({ slopePixelsPerFrame: 1.8, interceptPixels: -4, positions }));
    expect(slower.alternatives.map((line) => line.slopePixelsPerFrame)).toEqual([1.8]);
    const speed = slower.track.line.slopePixelsPerFrame.toPrecision(3);
    expect(slower.message).toContain(
      `${speed} px a frame; another runs from 0 px in frame 2 to 50 px in frame 30`,
    );
    const same = described(reading({ slopePixelsPerFrame: SPEED, interceptPixels: -2, positions }));
    expect([same.alternatives, same.message]).toEqual([[], undefined]);
  });

  // In little noise the edge itself is several splits in time: they must not pass for changes that bound it.
  it.each([2, 10])(
    "a cloud that follows leaves the front's own speed; noise of %s DN a pixel in 40",
    async (noise) => {
      const { track } = await outcomeOf((c, t) => front(c, t) + cloud(c, t), noise);
      const { slopePixelsPerFrame, standardUncertaintyPixelsPerFrame } = track.line;
      expect(Math.abs(slopePixelsPerFrame - SPEED)).toBeLessThan(3 * standardUncertaintyPixelsPerFrame);
      expect(standardUncertaintyPixelsPerFrame).toBeLessThan(0.02 * SPEED);
    },
  );

  it("is not raised for the plain front, which has one line", async () => {
    const { fronts, alternatives, warnings } = await outcomeOf(front, 2);
    expect(fronts.length).toBe(1);
    expect(alternatives).toEqual([]);
    expect(warnings.map(({ code }) => code)).not.toContain("ambiguous-front");
  });
});
