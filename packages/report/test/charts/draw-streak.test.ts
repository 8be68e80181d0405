import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { drawStreakFrame } from "../../src/charts/draw-streak.js";
import { layOutStreak } from "../../src/charts/streak-layout.js";
import { rasteriseStreak } from "../../src/charts/streak-raster.js";
import { EMPTY_COLOURS } from "../../src/drawing/hatching.js";
import { letterPen } from "../../src/drawing/letter-pen.js";
import { loadOutlinePen } from "../../src/drawing/outline-pen.js";
import { drawStreak, type StreakPicture } from "../../src/index.js";
import { inventStreak } from "../invented.js";

/** Decodes the PNG and gives the colour at a frame number and position, by the layout the picture must have. */
async function decode(picture: StreakPicture) {
  const png = await drawStreak(picture);
  const { data, info } = await sharp(png).raw().toBuffer({ resolveWithObject: true });
  const layout = layOutStreak(picture);
  const place = drawStreakFrame(picture, layout, rasteriseStreak(picture, layout), letterPen);
  const pixel = (x: number, y: number) => [
    ...data.subarray((y * info.width + x) * info.channels, (y * info.width + x) * info.channels + 3),
  ];
  const [f0, f1] = layout.frameDomain;
  const [p0, p1] = layout.positionDomain;
  const colourAt = (frame: number, position: number) =>
    pixel(
      Math.floor(place.plotLeft + ((frame - f0) / (f1 - f0)) * layout.plotWidth),
      Math.floor(place.plotTop + (1 - (position - p0) / (p1 - p0)) * layout.plotHeight),
    );
  return { info, colourAt, pixel, place, layout };
}

const EMPTY = EMPTY_COLOURS.map((rgb) => rgb.join());
const range = (count: number, from = 0) => Array.from({ length: count }, (_, i) => from + i);

describe("drawStreak", () => {
  test("every sample stands at its frame number and position, the largest position on top", async () => {
    const picture = inventStreak(range(8, 100), 20, { brightUpTo: (frame) => 2 * (frame - 100) + 1 });
    const { colourAt } = await decode(picture);
    for (const frame of picture.frameNumbers) {
      for (let position = 0; position < 20; position++) {
        const grey = position <= 2 * (frame - 100) + 1 ? 255 : 0;
        expect([frame, position, ...colourAt(frame, position)]).toEqual([frame, position, grey, grey, grey]);
      }
    }
  });

  test("a gap in the frame numbers leaves its columns empty and its neighbours filled", async () => {
    const picture = inventStreak([0, 1, 2, 5, 6], 12, { brightUpTo: () => 5 });
    const { colourAt } = await decode(picture);
    for (let position = 0; position < 12; position++) {
      for (const frame of [2.6, 3, 4, 4.4]) expect(EMPTY).toContain(colourAt(frame, position).join());
      for (const frame of [2.4, 4.6]) expect(EMPTY).not.toContain(colourAt(frame, position).join());
    }
  });

  test("columns of frames at irregular times reach half-way to their neighbours, and the axis counts time", async () => {
    const times = [0, 1, 3.5, 4, 6];
    const picture = inventStreak(times, 12, { brightUpTo: (time) => (time < 3 ? 11 : -1) });
    const { colourAt, layout } = await decode(picture);
    for (const time of [0, 0.4, 1.1, 2.2]) expect(colourAt(time, 5)).toEqual([255, 255, 255]);
    for (const time of [2.3, 3.5, 4.9, 5.1, 6]) expect(colourAt(time, 5)).toEqual([0, 0, 0]);
    expect(layout).toMatchObject({ areTimes: true, missingFrames: 0, frameDomain: [-0.25, 6.25] });
    const svg = drawStreakFrame(picture, layout, rasteriseStreak(picture, layout), letterPen).svg;
    expect(svg).toContain("time, counted in frames");
  });

  test("every second frame taken leaves no gap", () => {
    const picture = inventStreak([0, 2, 4, 6], 12, { brightUpTo: () => 5 });
    const layout = layOutStreak(picture);
    expect(rasteriseStreak(picture, layout).hasEmpty).toBe(false);
    expect(layout.missingFrames).toBe(0);
  });

  test("a sample that is not a number is drawn empty and does not spoil the contrast", async () => {
    const picture = inventStreak(range(6), 10, { brightUpTo: () => 4 });
    picture.data[3 * 10 + 7] = Number.NaN;
    const { colourAt } = await decode(picture);
    expect(EMPTY).toContain(colourAt(3, 7).join());
    expect(colourAt(3, 6)).toEqual([0, 0, 0]);
    expect(colourAt(2, 2)).toEqual([255, 255, 255]);
  });

  test("one hot sample in four hundred leaves the contrast of the others as it was", async () => {
    const picture = inventStreak(range(20), 20, { brightUpTo: () => 9 });
    picture.data[0] = 1e6;
    const { colourAt } = await decode(picture);
    expect(colourAt(10, 5)).toEqual([255, 255, 255]);
    expect(colourAt(10, 15)).toEqual([0, 0, 0]);
  });

  test("the key names the quantity, brightness where none is named", () => {
    const picture = inventStreak(range(8), 20, { brightUpTo: (frame) => 2 * frame });
    const keyOf = (drawn: StreakPicture) => {
      const layout = layOutStreak(drawn);
      return drawStreakFrame(drawn, layout, rasteriseStreak(drawn, layout), letterPen).svg;
    };
    expect(keyOf(picture)).toContain("brightness 10");
    expect(keyOf({ ...picture, quantity: "departure" })).toContain("departure 10");
    expect(keyOf({ ...picture, quantity: "departure" })).not.toContain("brightness");
  });

  test("a streak of one brightness is grey, not a division by zero", async () => {
    const picture = inventStreak(range(3), 4, { brightUpTo: () => 9 });
    const { colourAt } = await decode(picture);
    expect(colourAt(1, 2)).toEqual([128, 128, 128]);
  });

  test.each([
    ["bright", 1000],
    ["dark", -1],
  ])("the line shows on %s ground in two tones and lies where its equation says", async (_, upTo) => {
    const ground = inventStreak(range(40), 40, { brightUpTo: () => upTo });
    ground.data[0] = 10;
    ground.data[39 * 40 + 39] = 200;
    const line = { interceptPixels: 4, slopePixelsPerFrame: 0.75, firstFrame: 5, lastFrame: 35 };
    const bare = await decode(ground);
    const lined = await decode({ ...ground, line });
    const shift = lined.place.plotTop - bare.place.plotTop;
    const { frameDomain, positionDomain, plotWidth, plotHeight } = bare.layout;
    let changed = 0;
    let amber = 0;
    let farthest = 0;
    for (let y = 0; y < plotHeight; y++) {
      for (let x = 0; x < plotWidth; x++) {
        const before = bare.pixel(bare.place.plotLeft + x, bare.place.plotTop + y);
        const after = lined.pixel(bare.place.plotLeft + x, bare.place.plotTop + y + shift);
        if (before.join() === after.join()) continue;
        changed++;
        if (after[0] - after[2] > 60) amber++;
        const frame = frameDomain[0] + ((x + 0.5) / plotWidth) * (frameDomain[1] - frameDomain[0]);
        const expected =
          (1 - (4 + 0.75 * frame - positionDomain[0]) / (positionDomain[1] - positionDomain[0])) * plotHeight;
        farthest = Math.max(farthest, Math.abs(y + 0.5 - expected));
      }
    }
    expect(amber).toBeGreaterThan(200);
    expect(changed).toBeGreaterThan(amber);
    expect(farthest).toBeLessThan(4);
  });

  test("used points are circles, rejected ones crosses, and one outside the streak is counted", async () => {
    const picture = inventStreak(range(30), 30, { brightUpTo: (frame) => frame });
    const point = { standardUncertaintyPixels: 0.1, used: true };
    const points = [
      { ...point, frame: 4, positionPixels: 4 },
      { ...point, frame: 20, positionPixels: 20 },
      { ...point, frame: 10, positionPixels: 25, used: false },
      { ...point, frame: 12, positionPixels: 900, used: false },
      { ...point, frame: 13, positionPixels: Number.NaN, used: false },
    ];
    const layout = layOutStreak(picture);
    const raster = rasteriseStreak(picture, layout);
    const { svg } = drawStreakFrame({ ...picture, points }, layout, raster, letterPen);
    const inTwoTonesWithLegend = (count: number) => 2 * (count + 1);
    expect(svg.split("a3.5 3.5 0 1 0 7 0").length - 1).toBe(inTwoTonesWithLegend(2));
    expect(svg.split("M-4 -4L4 4M-4 4L4 -4").length - 1).toBe(inTwoTonesWithLegend(1));
    expect(svg).toContain("points used (2)");
    expect(svg).toContain("points rejected (2, 1 outside the picture)");
  });

  test("the picture holds outlines and no letters, so that a machine without fonts shows the text", async () => {
    const picture = { ...inventStreak(range(5), 8, { brightUpTo: () => 3 }), title: "Tile µ ± Ж" };
    const layout = layOutStreak(picture);
    const pen = await loadOutlinePen();
    const { svg } = drawStreakFrame(picture, layout, rasteriseStreak(picture, layout), pen);
    expect(svg).not.toContain("<text");
    const { pixel } = await decode(picture);
    let ink = 0;
    for (let y = 14; y < 40; y++) for (let x = 88; x < 300; x++) if (pixel(x, y)[0] < 128) ink++;
    expect(ink).toBeGreaterThan(200);
  });

  test("letters of the title have an outline each, a space has none", async () => {
    const pen = await loadOutlinePen();
    const place = { x: 0, y: 0, size: 20 };
    const strokes = (text: string) => pen.draw(text, place).split("M").length - 1;
    expect(strokes("l l l")).toBe(3 * strokes("l"));
    expect(strokes("l")).toBe(1);
    expect(Math.abs(pen.width("ll", 20) - 2 * pen.width("l", 20))).toBeLessThan(1e-9);
  });

  test("the same picture gives the same bytes", async () => {
    const picture = inventStreak(range(50), 60, { brightUpTo: (frame) => frame });
    expect(Buffer.compare(await drawStreak(picture), await drawStreak(picture))).toBe(0);
  });

  test("10,000 frames of 400 positions become a picture not wider than 1600 px, edge in place", async () => {
    const picture = inventStreak(range(10_000), 400, { brightUpTo: (frame) => frame / 25 });
    const { info, colourAt } = await decode(picture);
    expect(info.width).toBeLessThan(1600);
    expect(colourAt(5000, 190)).toEqual([255, 255, 255]);
    expect(colourAt(5000, 210)).toEqual([0, 0, 0]);
  });

  test("the data are left as they were", async () => {
    const picture = inventStreak(range(5), 6, { brightUpTo: () => 2 });
    const before = picture.data.slice();
    await drawStreak(picture);
    expect(picture.data).toEqual(before);
  });

  const good = inventStreak(range(3), 4, { brightUpTo: () => 1 });
  const line = { interceptPixels: 0, slopePixelsPerFrame: 1, firstFrame: 2, lastFrame: 1 };
  test.each<[string, Partial<StreakPicture>, string]>([
    ["no frame", { shape: [0, 4] }, "shape must hold whole numbers >= 1, got [0, 4]"],
    [
      "missing data",
      { data: new Float32Array(11) },
      "data must hold frames x positions = 3 x 4 = 12 values, got 11",
    ],
    ["a missing number", { frameNumbers: [0, 1] }, "frameNumbers must hold one number per frame, 3, got 2"],
    ["a repeated number", { frameNumbers: [0, 1, 1] }, "frameNumbers[2] must be > 1, the one before, got 1"],
    ["no number", { frameNumbers: [0, 1, Number.NaN] }, "frameNumbers[2] must be finite, got NaN"],
    [
      "step zero",
      { positionsPixels: { first: 0, step: 0 } },
      "positionsPixels.step must be finite and > 0, got 0",
    ],
    ["a backward line", { line }, "line.lastFrame must be >= line.firstFrame 2, got 1"],
  ])("%s is a RangeError that names argument, rule and value", async (_, change, message) => {
    await expect(drawStreak({ ...good, ...change })).rejects.toThrow(new RangeError(message));
  });
});
