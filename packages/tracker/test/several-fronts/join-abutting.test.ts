import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { joinAbutting } from "../../src/several-fronts/join-abutting.js";
import { streakOf } from "../support/frame-list.js";
import { reading } from "../support/reading.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge, wholePicture } from "../support/whole-picture.js";

const COLUMNS = 120;
const ROWS = 6;
const WHOLE = wholePicture(ROWS, COLUMNS);
const options = { sign: 0, exposureFraction: undefined, isPathGiven: false, pause: async () => {} } as const;

function take(change: (column: number, time: number) => number, seed = 4) {
  const normal = seededNormal(seed);
  return sourceOf(
    { numbers: frames(70), rows: ROWS, columns: COLUMNS },
    (_, c, time) => 80 + 40 * change(c, time) + 4 * normal(),
  );
}

/** Where a front is that stands from `stops` on for `stands` frames. */
const pausing = (speed: number, stops: number, stands: number) => (time: number) =>
  -8 + speed * (time <= stops ? time : Math.max(stops, time - stands));

describe("a front that stands for a while on the path", () => {
  it.each([
    [4, 15, 20],
    [5, 8, 9],
    [3, 30, 25],
  ])(
    "%f px a frame, from frame %i on for %i frames: one front, with its mean speed from the first frame used to the last",
    async (speed, stops, stands) => {
      const at = pausing(speed, stops, stands);
      const outcome = await trackFront(
        take((c, time) => edge(at(time) - c)),
        WHOLE,
      );
      if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
      const { line, firstFrame, lastFrame } = outcome.track;
      const mean = (at(lastFrame) - at(firstFrame)) / (lastFrame - firstFrame);
      expect(outcome.warnings.map(({ code }) => code)).toContain("speed-not-constant");
      expect(Math.abs(line.slopePixelsPerFrame - mean)).toBeLessThan(
        3 * line.standardUncertaintyPixelsPerFrame,
      );
      // two readings of about a tenth of a pixel, some forty frames apart
      expect(line.standardUncertaintyPixelsPerFrame).toBeLessThan(0.01);
      // all of the way, but for the frames in which it is half out of the picture
      expect(at(firstFrame)).toBeLessThan(2 * speed);
      expect(at(lastFrame)).toBeGreaterThan(COLUMNS - 1 - 2 * speed);
    },
  );

  it.each([3, 5])(
    "in a plane seen obliquely: the mean speed in the plane, within its interval (seed %i)",
    async (seed) => {
      // From near to far the plane is seen at 1.3 down to 1 / 1.3 of its mean scale.
      const length = COLUMNS - 1;
      const straight = (pixels: number) => (1.3 * pixels) / (1 + (0.3 * pixels) / length);
      const seenAt = (even: number) => even / (1.3 - (0.3 * even) / length);
      const even = pausing(4, 12, 20);
      const outcome = await trackFront(
        take((c, time) => edge(seenAt(even(time)) - c), seed),
        { ...WHOLE, straighten: () => straight },
      );
      if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
      const { line, firstFrame, lastFrame, positions } = outcome.track;
      const mean = (even(lastFrame) - even(firstFrame)) / (lastFrame - firstFrame);
      expect(Math.abs(line.slopePixelsPerFrame - mean)).toBeLessThan(
        3 * line.standardUncertaintyPixelsPerFrame,
      );
      expect(line.standardUncertaintyPixelsPerFrame).toBeLessThan(0.01);
      // The residuals are those of the plane.
      const used = positions.filter(({ used }) => used);
      const [first, last] = [used[0], used[used.length - 1]];
      for (const { residualPixels } of [first, last]) expect(Math.abs(residualPixels)).toBeLessThan(1e-9);
    },
  );

  it("one that turns from fast to slow is one front", async () => {
    const at = (time: number) => -8 + 6 * Math.min(time, 11) + 1.2 * Math.max(0, time - 11);
    const outcome = await trackFront(
      take((c, time) => edge(at(time) - c)),
      WHOLE,
    );
    expect(outcome.status).toBe("tracked");
  });

  it("two that run the same stretch one after the other are two", async () => {
    const outcome = await trackFront(
      take((c, time) => edge(4 * time - 8 - c) + 0.8 * edge(4 * (time - 34) - 8 - c)),
      WHOLE,
    );
    expect(outcome).toMatchObject({ status: "not-found", reason: "several-fronts" });
  });
});

describe("joinAbutting", () => {
  const stretch = (from: number, to: number) => (position: number) =>
    position >= from && position < to ? 40 : 0;
  const at = (from: number, to: number, slope: number, first: number) => {
    const shown = frames(Math.round((to - from) / Math.abs(slope)), first);
    const start = slope > 0 ? from : to;
    const found = reading({
      slopePixelsPerFrame: slope,
      interceptPixels: start - slope * first,
      change: stretch(from, to),
      frames: shown,
    });
    const { front } = found;
    if (!front) throw new Error("expected a front");
    return { ...found, front: { ...front, positionPixels: shown.map((f) => start + slope * (f - first)) } };
  };

  it.each([
    ["run towards each other", at(0, 50, 5, 5), at(50, 100, -5, 20)],
    ["leave a stretch between them", at(0, 40, 5, 5), at(70, 100, 5, 20)],
    ["run at the same time", at(0, 50, 2, 5), at(50, 100, 2, 5)],
    ["pass the same stretch", at(0, 60, 5, 5), at(30, 100, 5, 30)],
    ["wait between them for longer than they run", at(0, 50, 5, 5), at(50, 100, 5, 37)],
  ])("two that %s are not one", async (_, one, other) => {
    const streak = await streakOf(take(() => 0));
    expect(await joinAbutting(streak, [one, other], options)).toBeNull();
  });

  it("two that abut are not one where one front does not explain what is there", async () => {
    // the first comes back over its own stretch after the second
    const streak = await streakOf(
      take((c, time) => {
        const front = edge(5 * (time - 5) - c);
        return c < 50 && time > 45 ? 0 : front;
      }),
    );
    expect(await joinAbutting(streak, [at(0, 50, 5, 5), at(50, 100, 5, 15)], options)).toBeNull();
  });
});
