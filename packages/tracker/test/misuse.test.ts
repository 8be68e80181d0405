import { describe, expect, it } from "vitest";
import { type Progress, type TrackOptions, trackFront } from "../src/index.js";
import { render, sourceOf } from "./support/render.js";
import { frames } from "./support/track.js";

const SOURCE = render({
  numbers: frames(20),
  rows: 12,
  columns: 60,
  frontAt: (time) => 5 + 2 * time,
  noise: 2,
});

describe("misuse is a RangeError that shows the value", () => {
  it.each<[string, TrackOptions, RegExp]>([
    ["a width below 1", { width: 0.5 }, /width must be >= 1, got 0.5/],
    ["a width that is no number", { width: Number.NaN }, /width must be >= 1, got NaN/],
    [
      "a path that leaves the picture",
      {
        path: [
          [0, 0],
          [60, 4],
        ],
      },
      /inside x 0..59, y 0..11, got \(60, 4\)/,
    ],
    [
      "a path above the picture",
      {
        path: [
          [0, -1],
          [50, 4],
        ],
      },
      /got \(0, -1\)/,
    ],
    [
      "a path that is no number",
      {
        path: [
          [0, Number.NaN],
          [50, 4],
        ],
      },
      /got \(0, NaN\)/,
    ],
    [
      "a path of zero length",
      {
        path: [
          [3, 3],
          [3, 3],
        ],
      },
      /at least 1 px long, got \(3, 3\) to \(3, 3\)/,
    ],
    ["a range after the take", { firstFrame: 50 }, /frames 50..19 hold none/],
    ["a range before the take", { lastFrame: -1 }, /frames 0..-1 hold none/],
    ["a range turned round", { firstFrame: 12, lastFrame: 8 }, /frames 12..8 hold none/],
    ["an exposure of no time", { exposureFraction: 0 }, /exposureFraction must be > 0 and <= 1, got 0/],
    ["an exposure beyond the interval", { exposureFraction: 1.5 }, /<= 1, got 1.5/],
    ["an exposure that is no number", { exposureFraction: Number.NaN }, /<= 1, got NaN/],
  ])("%s", async (_, options, message) => {
    const failure = trackFront(SOURCE, options);
    await expect(failure).rejects.toBeInstanceOf(RangeError);
    await expect(failure).rejects.toThrow(message);
  });

  it("a source without frames", async () => {
    const empty = sourceOf({ numbers: [], rows: 4, columns: 4 }, () => 0);
    await expect(trackFront(empty)).rejects.toThrow(/at least one frame, got none/);
  });

  it("a picture of one pixel", async () => {
    const pixel = sourceOf({ numbers: frames(9), rows: 1, columns: 1 }, () => 0);
    await expect(trackFront(pixel)).rejects.toBeInstanceOf(RangeError);
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY])("a sample of %f, by its frame", async (bad) => {
    const source = sourceOf({ numbers: frames(20, 100), rows: 6, columns: 40 }, (row, column, number) =>
      row === 3 && column === 20 && number === 112 ? bad : 100,
    );
    await expect(trackFront(source)).rejects.toThrow(/frame 112 must hold finite samples/);
    await expect(trackFront(source)).rejects.toMatchObject({ code: "samples-not-finite" });
  });
});

describe("abort and progress", () => {
  it("an aborted signal rejects with its reason, before the first frame and half way", async () => {
    const reason = new Error("stopped by the test");
    await expect(trackFront(SOURCE, { signal: AbortSignal.abort(reason) })).rejects.toBe(reason);

    const controller = new AbortController();
    const onProgress = ({ done }: Progress) => {
      if (done === 10) controller.abort(reason);
    };
    await expect(trackFront(SOURCE, { signal: controller.signal, onProgress })).rejects.toBe(reason);
  });

  it("an abort while the front is followed is heeded before it is done", async () => {
    const reason = new Error("stop");
    const controller = new AbortController();
    const stages: string[] = [];
    const onProgress = ({ stage, done }: { stage: string; done: number }) => {
      stages.push(`${stage} ${done}`);
      if (stage === "fitting") setImmediate(() => controller.abort(reason));
    };
    await expect(trackFront(SOURCE, { signal: controller.signal, onProgress })).rejects.toBe(reason);
    expect(stages.at(-1)).toBe("fitting 0");
  });

  it("an aborted signal rejects with its reason where the source does not heed it", async () => {
    const reason = new Error("stopped by the test");
    const deaf = {
      ...SOURCE,
      frames: (...[range, region]: Parameters<typeof SOURCE.frames>) => SOURCE.frames(range, region),
    };
    await expect(trackFront(deaf, { signal: AbortSignal.abort(reason) })).rejects.toBe(reason);
  });

  it("progress counts every frame once, in order, up to the total", async () => {
    const seen: Progress[] = [];
    await trackFront(SOURCE, { firstFrame: 3, onProgress: (progress) => seen.push(progress) });
    const of = (stage: string) => seen.filter((progress) => progress.stage === stage);
    expect(of("reading").map(({ done }) => done)).toEqual(frames(17, 1));
    expect(new Set(of("reading").map(({ total }) => total))).toEqual(new Set([17]));
    // The front is square to the rows: the columns are not looked at.
    expect(of("fitting").map(({ done, total }) => `${done}/${total}`)).toEqual(["0/2", "2/2"]);
  });
});
