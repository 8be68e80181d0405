import { describe, expect, it } from "vitest";
import { measureTake } from "../src/index.js";
import { eventFrames } from "../src/result/event-frames.js";
import { circleAbout, lineAcross } from "../src/result/front-places.js";
import { crossed, notFound, settings, tracked } from "./outcomes.js";

const tile = new URL("../../../fixtures/cracking-tile", import.meta.url).pathname;
const nothing = { radius: null, form: null, tips: [], branches: 0 };

describe("what a report shows beside the answer", () => {
  it("is in the result: the track as columns, the speed along the way, the streak's extent, three frames", async () => {
    const { result, track, streak, eventPictures } = await measureTake(tile, {}, { eventPictures: true });
    if (result.status !== "measured" || !result.track || !result.speedAlong) throw new Error("not measured");
    expect(result.track.frame).toEqual(track.map(({ frame }) => frame));
    const { positionMetres, fittedMetres, residualMetres } = result.track;
    residualMetres.forEach((residual, k) => {
      expect(residual).toBe(positionMetres[k] - fittedMetres[k]);
      expect(Math.abs(residual - track[k].residualPixels * result.take.metresPerPixel)).toBeLessThan(1e-12);
    });
    const { speed, halfWidth } = result.speedAlong;
    // 95 % bands at single times: nearly all hold a speed that was constant.
    const holding = speed.filter((value, k) => Math.abs(value - result.speed.value) <= halfWidth[k]);
    expect(holding.length).toBeGreaterThan(0.8 * speed.length);
    expect(result.streak).toMatchObject({ samples: streak.shape[1], frameStep: 1, channel: "brightness" });
    expect(result.event?.map(({ moment, fronts }) => [moment, fronts.length])).toEqual([
      ["before", 0],
      ["middle", 1],
      ["after", 0],
    ]);
    expect(eventPictures.map(({ frame }) => frame)).toEqual(result.event?.map(({ frame }) => frame));
    for (const { data, shape } of eventPictures) expect(data.length).toBe(shape[0] * shape[1]);
  });

  it("reads no whole frames unless they are asked for", async () => {
    expect((await measureTake(tile)).eventPictures).toEqual([]);
  });

  it("names what was stated by hand, an uncertainty that does not survive an option left out", async () => {
    const stated = async (options: object) => (await measureTake(tile, options)).result.take.stated;
    expect(await stated({})).toContain("rateUncertaintyHz");
    expect(await stated({ rateHz: 500_000, width: 40 })).not.toContain("rateUncertaintyHz");
    expect(await stated({ width: 40 })).toContain("width");
  });
});

describe("frames of the event", () => {
  it("without a front are the first, the middle and the last", () => {
    const numbers = Array.from({ length: 11 }, (_, k) => k - 3);
    expect(eventFrames({ outcome: notFound, numbers, ...nothing }, settings)).toEqual([
      { moment: "before", frame: -3, fronts: [] },
      { moment: "middle", frame: 2, fronts: [] },
      { moment: "after", frame: 7, fronts: [] },
    ]);
  });

  it("of a front that crossed are the two about it, and none between where there is none", () => {
    if (crossed.status !== "crossed") throw new Error("not crossed");
    const { lastFrameBefore, firstFrameAfter } = crossed;
    const frames = eventFrames(
      { outcome: crossed, numbers: [lastFrameBefore, firstFrameAfter], ...nothing },
      settings,
    );
    expect(frames.map(({ moment, frame }) => [moment, frame])).toEqual([
      ["before", lastFrameBefore],
      ["after", firstFrameAfter],
    ]);
  });

  it("of a front that fills the take from end to end show it in the first and the last", () => {
    const numbers = tracked.track.positions.map(({ frame }) => frame);
    const frames = eventFrames({ outcome: tracked, numbers, ...nothing }, settings);
    expect(frames[0]).toMatchObject({ frame: numbers[0], fronts: [{ kind: "line" }] });
  });
});

describe("where a front lies in the picture", () => {
  const along = {
    path: [
      [10, 20],
      [110, 20],
    ] as const,
    width: 8,
  };

  it("is a line across the path, as wide as its band", () => {
    expect(lineAcross(along, 30)).toEqual({
      kind: "line",
      points: [
        [40, 24],
        [40, 16],
      ].toReversed(),
    });
  });

  it("is further along on the path's right-hand side, which lies below, where the tilt is positive", () => {
    const [[above], [below]] = lineAcross(along, 30, 45).points ?? [];
    expect(above).toBeCloseTo(36, 10);
    expect(below).toBeCloseTo(44, 10);
  });

  it("is a circle about the origin whose radius counts from there", () => {
    expect(
      circleAbout(
        { origin: [10, 10] },
        [
          [10, 16],
          [10, 80],
        ],
        4,
      ),
    ).toEqual({ kind: "circle", centre: [10, 10], radius: 10 });
  });
});
