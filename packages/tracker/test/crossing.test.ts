import { describe, expect, it } from "vitest";
import { type TrackOptions, trackFront } from "../src/index.js";
import { render, sourceOf } from "./support/render.js";
import { expectCovered, frames } from "./support/track.js";

const PATH: TrackOptions = {
  path: [
    [5, 8],
    [100, 8],
  ],
};

/** Invented: the front stands at the picture's left edge at `start`. */
const take = (pixelsPerFrame: number, start: number, numbers = frames(12)) =>
  render({
    numbers,
    rows: 16,
    columns: 110,
    frontAt: (time) => pixelsPerFrame * (time - start),
    noise: 2,
    seed: 3,
  });

describe("a front that crosses within fewer than three frames", () => {
  it.each([
    [60, 5.2],
    [80, 5.3],
    [100, 5.5],
    [150, 5.7],
    [400, 5.9],
  ])("%f px a frame, seen part of the way in one frame: bounded from below", async (speed, start) => {
    const outcome = await trackFront(take(speed, start));
    expect(outcome).toMatchObject({
      status: "crossed",
      lastFrameBefore: 5,
      firstFrameAfter: 7,
      polarity: "bright",
      warnings: [],
    });
    if (outcome.status !== "crossed") return;
    // Never more than the path, never a bound above the speed, and most of the path used.
    expect(outcome.lengthPixels).toBeLessThanOrEqual(109);
    expect(outcome.lengthPixels).toBeGreaterThan(0.9 * 109);
    expect(outcome.lengthPixels / 2).toBeLessThan(speed);
  });

  it.each([
    { speed: 30, start: -0.33, count: 4 },
    { speed: 60, start: -0.5, count: 3 },
    { speed: 110, start: 0.82, count: 4 },
    { speed: 27, start: 0.4, count: 5 },
  ])("$count frames, at $speed px a frame begun at $start: never bound above the truth", async (given) => {
    for (const blurPixels of [1, 4]) {
      const frontAt = (time: number) => given.speed * (time - given.start);
      const numbers = frames(given.count);
      const outcome = await trackFront(
        render({ numbers, rows: 16, columns: 200, frontAt, blurPixels, noise: 2, seed: 3 }),
        {
          path: [
            [0, 8],
            [199, 8],
          ],
        },
      );
      if (outcome.status === "tracked") expectCovered(outcome.track, given.speed);
      if (outcome.status !== "crossed") continue;
      const { lengthPixels, firstFrameAfter, lastFrameBefore } = outcome;
      expect(lengthPixels / (firstFrameAfter - lastFrameBefore)).toBeLessThan(given.speed);
    }
  });

  it.each([1, 2, 3, 4])(
    "three frames, smeared over all of the path in the middle one: no speed (seed %i)",
    async (seed) => {
      // Out of sight during the first and the last exposure: one frame cannot tell a speed.
      const source = render({
        numbers: frames(3),
        rows: 16,
        columns: 128,
        frontAt: (time) => 163 * (time - 1) + 60,
        blurPixels: 3.9,
        exposureFraction: 0.85,
        noise: 80 / 30,
        seed,
      });
      const path: TrackOptions["path"] = [
        [0, 8],
        [127, 8],
      ];
      const outcome = await trackFront(source, { path, exposureFraction: 0.85 });
      expect(outcome).toMatchObject({ status: "crossed", lastFrameBefore: 0, firstFrameAfter: 2 });
    },
  );

  it("a fast front in four frames is not lost in what is taken for noise", async () => {
    const source = render({
      numbers: frames(4),
      rows: 16,
      columns: 200,
      frontAt: (time) => 110 * time - 90,
      noise: 2,
      seed: 3,
    });
    expect((await trackFront(source)).status).not.toBe("not-found");
  });

  it("frame numbers with a gap bound by the numbers, not by the count", async () => {
    const numbers = frames(12).filter((number) => number !== 4);
    expect(await trackFront(take(100, 4.2, numbers), PATH)).toMatchObject({
      status: "crossed",
      lastFrameBefore: 3,
      firstFrameAfter: 6,
    });
  });

  it("two frames with the change between them: bounded where the path is given, with a warning", async () => {
    const source = take(400, 4.5, [4, 5]);
    const outcome = await trackFront(source, PATH);
    expect(outcome).toMatchObject({ status: "crossed", lastFrameBefore: 4, firstFrameAfter: 5 });
    expect(outcome.warnings.map(({ code }) => code)).toEqual(["crossing-not-seen"]);
    expect((await trackFront(source)).status).toBe("not-found");
  });

  it("two frames in which the front has run half the path: no bound", async () => {
    expect((await trackFront(take(100, 4.5, [4, 5]), PATH)).status).toBe("not-found");
  });

  it("two frames without a change: not found, with and without a path", async () => {
    const source = take(1, 1000, [4, 5]);
    for (const options of [{}, PATH])
      expect(await trackFront(source, options)).toMatchObject({ status: "not-found", reason: "no-change" });
  });

  it("one frame: too few", async () => {
    for (const options of [{}, PATH])
      expect(await trackFront(take(100, 4.5, [4]), options)).toMatchObject({
        status: "not-found",
        reason: "too-few-frames",
      });
  });

  it("a change that spreads from the middle both ways: no bound from the whole path", async () => {
    const source = sourceOf(
      { numbers: frames(12), rows: 16, columns: 200 },
      (_row, column, number) => 60 + (Math.abs(column - 100) < 60 * (number - 4.5) ? 80 : 0),
    );
    expect((await trackFront(source)).status).not.toBe("crossed");
  });

  it("a front that stops half way, and a spot that lights up far from it: no bound from the way between", async () => {
    const source = sourceOf({ numbers: frames(14), rows: 16, columns: 200 }, (_row, column, number) => {
      const passed = column < Math.min(100, 60 * (number - 5));
      return 60 + (passed || (column > 190 && number > 6) ? 80 : 0);
    });
    expect((await trackFront(source)).status).not.toBe("crossed");
  });
});
