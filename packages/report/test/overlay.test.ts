import fc from "fast-check";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { letterPen } from "../src/drawing/letter-pen.js";
import { loadOutlinePen } from "../src/drawing/outline-pen.js";
import {
  drawOverlay,
  joinPictures,
  type OverlayFrame,
  type OverlayInput,
  type ReportedResult,
} from "../src/index.js";
import type { Box } from "../src/overlay/clearance.js";
import { ringRadius } from "../src/overlay/front-outline.js";
import { type PlannedFrame, planOverlay } from "../src/overlay/overlay-plan.js";
import { overlayWords } from "../src/overlay/overlay-words.js";
import { scaleBars } from "../src/overlay/scale-bar.js";
import type { ReportedFrontPlace } from "../src/words/reported-result.js";
import { bounded, measured } from "./invented-result.js";
import { pointsOn } from "./points-on.js";

const sized = (columns: number, rows: number): ReportedResult => ({
  ...measured,
  take: { ...measured.take, columns, rows },
});
const frameOf = (number: number, ...places: ReportedFrontPlace[]): OverlayFrame => ({
  number,
  fronts: places.map((place) => ({ place, isFitted: false })),
  elapsedSeconds: number * 1e-5,
  distanceMetres: places.length > 0 ? number * 4e-4 : null,
});
const upright = (x: number, rows: number): ReportedFrontPlace => ({
  kind: "line",
  points: [
    [x, -0.5],
    [x, rows - 0.5],
  ],
});
/** A front as high as the picture that runs from its left edge to its right. */
const across = (columns: number, rows: number, count: number): OverlayFrame[] =>
  Array.from({ length: count }, (_, k) => frameOf(k, upright((k / (count - 1)) * (columns - 1), rows)));
const input = (
  result: ReportedResult,
  frames: readonly OverlayFrame[],
  more: Partial<OverlayInput> = {},
) => ({
  result,
  frames,
  colour: "#ffb000",
  scale: 1,
  ...more,
});
const boxesOf = ({ text, bar, numbers }: PlannedFrame): Box[] => [
  ...(text ? [text.box] : []),
  ...(bar ? [bar.box] : []),
  ...numbers.map(({ box }) => box),
];
const isIn = ({ left, top, width, height }: Box, [x, y]: readonly [number, number]) =>
  x > left && x < left + width && y > top && y < top + height;
const meet = (a: Box, b: Box) =>
  a.left < b.left + b.width &&
  b.left < a.left + a.width &&
  a.top < b.top + b.height &&
  b.top < a.top + a.height;

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, k) => from + k);

describe("where text stands", () => {
  // Evenly: most doubles drawn lie at 0 and at the ends of their range.
  const share = fc.integer({ min: -200, max: 1200 }).map((value) => value / 1000);
  const place = fc.oneof(
    fc.record({
      kind: fc.constant("line" as const),
      from: fc.tuple(share, share),
      to: fc.tuple(share, share),
    }),
    fc.record({
      kind: fc.constant("circle" as const),
      from: fc.tuple(share, share),
      to: fc.tuple(share, share),
    }),
    fc.record({
      kind: fc.constant("tip" as const),
      from: fc.tuple(share, share),
      to: fc.tuple(share, share),
    }),
    fc.record({
      kind: fc.constant("oval" as const),
      from: fc.tuple(share, share),
      to: fc.tuple(share, share),
    }),
  );
  const course = fc.record({
    columns: fc.integer({ min: 6, max: 900 }),
    rows: fc.integer({ min: 4, max: 600 }),
    scale: fc.integer({ min: 1, max: 4 }),
    fronts: fc.array(place, { minLength: 1, maxLength: 4 }),
    moves: fc.tuple(share, share),
    count: fc.integer({ min: 1, max: 25 }),
    textSize: fc.option(fc.double({ min: 5, max: 60, noNaN: true }), { nil: undefined }),
  });

  it("it never covers a front, nor leaves the picture, nor do its parts meet", () => {
    fc.assert(
      fc.property(course, ({ columns, rows, scale, fronts, moves, count, textSize }) => {
        const frames = Array.from({ length: count }, (_, k) => {
          const [dx, dy] = moves.map((move) => (move * k) / count);
          const placed = fronts.map(({ kind, from, to }, i): ReportedFrontPlace => {
            const at = ([x, y]: readonly [number, number]) => [(x + dx) * columns, (y + dy) * rows] as const;
            if (kind === "circle")
              return {
                kind,
                number: i + 1,
                centre: at(from),
                radius: 0.1 + (Math.abs(to[0]) + k / count) * rows,
              };
            if (kind === "oval") {
              // As an ellipse is told: by points along it.
              const points = range(0, 24).map((step) => {
                const angle = (2 * Math.PI * step) / 24;
                const reach = Math.abs(to[0]) + k / count;
                return at([from[0] + reach * Math.cos(angle), from[1] + 0.7 * reach * Math.sin(angle)]);
              });
              return { kind: "line", number: i + 1, points };
            }
            return { kind, number: i + 1, points: kind === "line" ? [at(from), at(to)] : [at(from)] };
          });
          return frameOf(k, ...placed);
        });
        const more = { scale, ...(textSize !== undefined && { textSize }) };
        const plan = planOverlay(input(sized(columns, rows), frames, more), letterPen);
        const ring = ringRadius({ rows: rows * scale, columns: columns * scale });
        const [width, height] = [columns * scale, rows * scale];
        const wrong = plan.frames.flatMap((frame, k) => {
          const boxes = boxesOf(frame);
          const fronts = frames[k].fronts.flatMap(({ place: front }) =>
            pointsOn(front, ring / scale, 100).map(
              ([x, y]) => [(x + 0.5) * scale, (y + 0.5) * scale] as const,
            ),
          );
          return boxes.flatMap((box, i) => [
            ...(box.left < 0 || box.top < 0 ? ["left"] : []),
            ...(box.left + box.width > width + 1e-9 || box.top + box.height > height + 1e-9 ? ["right"] : []),
            ...(boxes.slice(0, i).some((other) => meet(box, other)) ? ["meets another"] : []),
            ...(fronts.some((point) => isIn(box, point)) ? ["covers a front"] : []),
          ]);
        });
        expect(wrong).toEqual([]);
      }),
      { numRuns: 120 },
    );
  });

  it("it keeps clear of a straight front beyond the band in which it was followed, unless it would have to go", () => {
    const band = (x: number): ReportedFrontPlace => ({
      kind: "line",
      points: [
        [x - 2, 190],
        [x + 2, 210],
      ],
    });
    const frames = range(0, 40).map((k) => frameOf(k, band(12 * k)));
    const { frames: planned } = planOverlay(input(sized(480, 400), frames), letterPen);
    planned.forEach((frame, k) => {
      for (const { left, top, width, height } of boxesOf(frame))
        for (const y of [top, top + height]) {
          const x = 12 * k + (y - 200) / 5;
          expect(x < left || x > left + width, `frame ${k}`).toBe(true);
        }
      expect(frame.text).not.toBeNull();
      expect(frame.bar).not.toBeNull();
    });
    // Along the whole of a low picture nothing would be clear of what lies beyond the band.
    const along = range(0, 9).map((k) =>
      frameOf(k, {
        kind: "line",
        points: [
          [100, 24],
          [140, 24 + k / 9],
        ],
      }),
    );
    const low = planOverlay(input(sized(240, 48), along), letterPen);
    for (const { text, bar } of low.frames) expect(text && bar).not.toBeNull();
  });

  it("it is the corner farthest from the front, and the same one throughout", () => {
    const tips = Array.from({ length: 9 }, (_, k) => frameOf(k, { kind: "tip", points: [[20 + 5 * k, 20]] }));
    const { frames, notes } = planOverlay(input(sized(400, 300), tips), letterPen);
    const boxes = frames.map(({ text }) => text?.box);
    expect(new Set(boxes).size).toBe(1);
    expect(boxes[0]?.left).toBeGreaterThan(200);
    expect(boxes[0]?.top).toBeGreaterThan(150);
    expect(notes).toEqual([]);
  });

  it("it keeps off the whole way of a crack, which stays in the picture", () => {
    // Round the picture and into its middle: every place is on the way.
    const way = [...range(0, 20), ...range(0, 20)].map((k, i): readonly [number, number] =>
      i <= 10
        ? [40 * k, 10]
        : i <= 20
          ? [390, 10 + 28 * (k - 10)]
          : i <= 31
            ? [390 - 38 * k, 290]
            : [10, 290 - 28 * (k - 10)],
    );
    const tips = [...way, [200, 150] as const].map((point, k) =>
      frameOf(k, { kind: "tip", points: [point] }),
    );
    const { frames, notes } = planOverlay(input(sized(400, 300), tips), letterPen);
    expect(notes.map(({ code }) => code)).toContain("left-out");
    for (const frame of frames)
      for (const box of boxesOf(frame)) expect(way.some((point) => isIn(box, point))).toBe(false);
  });

  it("it changes once where a front crosses the whole picture, and that is said", () => {
    const { frames, notes } = planOverlay(input(sized(640, 200), across(640, 200, 41)), letterPen);
    const boxes = frames.map(({ text }) => text?.box);
    expect(boxes).not.toContain(undefined);
    expect(new Set(boxes).size).toBe(2);
    const moved = frames.find((frame) => frame.text?.box !== frames[0].text?.box)?.number;
    expect(notes).toEqual([
      { code: "text-moves", message: expect.stringMatching(RegExp(`in frame ${moved}: no place`)) },
    ]);
  });

  it("in a small picture parts are left out, and said", () => {
    const { frames, notes } = planOverlay(input(sized(64, 24), across(64, 24, 33)), letterPen);
    expect(notes.map(({ code }) => code)).toContain("left-out");
    for (const { text } of frames) if (text) expect(text.lines.join(" ")).toContain("±");
  });

  it("letters that were asked for and do not fit become smaller, and it is said", () => {
    const few = [frameOf(0, upright(150, 100))];
    const { textSize, notes } = planOverlay(input(sized(300, 100), few, { textSize: 40 }), letterPen);
    expect(textSize).toBeLessThan(40);
    expect(notes[0]).toMatchObject({
      code: "text-smaller",
      message: expect.stringMatching(/not 40 px|not 40:/),
    });
  });
});

describe("what it says", () => {
  const linesOf = (result: ReportedResult, frames: readonly OverlayFrame[]) =>
    overlayWords(result, frames)[0].settings[0];

  it("speed with its interval, distance to its uncertainty, time to the interval of frames", () => {
    const frames = [-1, 0, 3].map((number) => frameOf(number, ...(number < 0 ? [] : [upright(number, 4)])));
    expect(linesOf(measured, frames)).toEqual([
      ["40.1 m/s ± 1.0 m/s", "distance – mm", "time −10 µs"],
      ["40.1 m/s ± 1.0 m/s", "distance 0.000 mm", "time 0 µs"],
      ["40.1 m/s ± 1.0 m/s", "distance 1.200 mm", "time 30 µs"],
    ]);
  });

  it("a distance is not told more finely than the scale is known", () => {
    const take = { ...measured.take, metresPerPixelUncertainty: 0.05 * measured.take.metresPerPixel };
    expect(linesOf({ ...measured, take }, [frameOf(3, upright(3, 4))])[0][1]).toBe("distance 1.20 mm");
  });

  it("a bound has no distance, several fronts have their numbers", () => {
    expect(linesOf(bounded, [frameOf(1)])).toEqual([
      ["at least 1230 m/s (95\u202f% confidence), reading only", "time 10 µs"],
    ]);
    const line = { standardUncertainty: 0.5, firstFrame: 0, lastFrame: 4, fromPixels: 0, toPixels: 7 };
    const fronts = [
      { ...line, speed: 40 },
      { ...line, speed: 12 },
    ];
    const several: ReportedResult = { ...measured, status: "not-found", speed: null, fronts };
    expect(linesOf(several, [frameOf(0)])[0]).toEqual([
      "2 fronts, no one speed",
      "1: 40.00 ± 0.50 m/s (k = 1)",
      "2: 12.00 ± 0.50 m/s (k = 1)",
      "time 0 µs",
    ]);
  });

  it("a bar has a round length that fits the picture, and says where it is but a mean", () => {
    const take = { ...measured.take, columns: 640 };
    expect(scaleBars(take)).toEqual([
      { pixels: 100, text: "20 mm" },
      { pixels: 50, text: "10 mm" },
    ]);
    const calibration = { planeMap: true } as NonNullable<ReportedResult["take"]["calibration"]>;
    expect(scaleBars({ ...take, calibration })[0].text).toBe("about 20 mm");
  });
});

describe("the pictures", () => {
  const [columns, rows] = [160, 60];
  const result = sized(columns, rows);
  const frames = [40, 90].map((x, k) => frameOf(k, upright(x, rows)));

  /** Row-major RGBA. */
  const pixelsOf = (png: Uint8Array) => sharp(png).raw().toBuffer({ resolveWithObject: true });

  it("are PNG with transparency of the footage's size, with the front where it is and nothing but it near", async () => {
    const overlay = await drawOverlay(input(result, frames));
    const plan = planOverlay(input(result, frames), await loadOutlinePen());
    for (const [k, x] of [40, 90].entries()) {
      const { data, info } = await pixelsOf(await overlay.alone(k));
      expect(info).toMatchObject({ width: columns, height: rows, channels: 4 });
      const isWithin = (column: number, row: number) =>
        boxesOf(plan.frames[k]).some(
          ({ left, top, width, height }) =>
            column >= left - 2 && column <= left + width + 2 && row >= top - 2 && row <= top + height + 2,
        );
      for (let row = 0; row < rows; row++)
        for (let column = 0; column < columns; column++) {
          const [r, g, b, alpha] = data.subarray(4 * (row * columns + column));
          if (column === x) expect([r, g, b, alpha]).toEqual([0xff, 0xb0, 0, 255]);
          else if (Math.abs(column - x) > 2 && !isWithin(column, row)) expect(alpha).toBe(0);
        }
    }
  });

  it("over the footage they are enlarged, in its greys, with the front in the middle of its pixels", async () => {
    const scale = 3;
    const overlay = await drawOverlay(input(result, frames, { scale }));
    const data = new Float64Array(rows * columns).fill(30);
    const rgb = await overlay.over(0, data, { low: 10, high: 50 });
    expect(rgb).toHaveLength(3 * rows * columns * scale * scale);
    const at = (x: number, y: number) => [...rgb.subarray(3 * (y * columns * scale + x)).subarray(0, 3)];
    expect(at(40 * scale + 1, 90)).toEqual([0xff, 0xb0, 0]);
    expect(at(60 * scale, 90)).toEqual([128, 128, 128]);
    await expect(overlay.over(0, new Float64Array(7), { low: 0, high: 1 })).rejects.toThrow(RangeError);
  });

  it("have a dark rim about a bright colour and a bright one about a dark", async () => {
    for (const [colour, rim] of [
      ["#ffffff", 0],
      ["#000000", 255],
    ] as const) {
      const overlay = await drawOverlay(input(result, frames, { colour }));
      const { data } = await pixelsOf(await overlay.alone(0));
      const seen = new Set<number>();
      for (let i = 0; i < data.length; i += 4) if (data[i + 3] > 150) seen.add(data[i]);
      expect(seen).toContain(rim);
    }
  });

  it("are the same bytes again, and dashed where the front was fitted", async () => {
    const fitted = frames.map((frame) => ({
      ...frame,
      fronts: frame.fronts.map(({ place }) => ({ place, isFitted: true })),
    }));
    const plain = await (await drawOverlay(input(result, frames))).alone(1);
    expect(await (await drawOverlay(input(result, frames))).alone(1)).toEqual(plain);
    const { data } = await pixelsOf(await (await drawOverlay(input(result, fitted))).alone(1));
    const column = Array.from({ length: rows }, (_, row) => data[4 * (row * columns + 90) + 3]);
    expect(column).toContain(0);
    expect(column).toContain(255);
  });

  it.each([
    [{ scale: 1.5 }, /scale/],
    [{ colour: "red" }, /colour/],
    [{ textSize: 0 }, /textSize/],
    [{ frames: [] }, /frames/],
  ])("of %j are refused", async (wrong, message) => {
    await expect(drawOverlay(input(result, frames, wrong))).rejects.toThrow(message);
  });

  it.each(["webp", "gif"] as const)(
    "join into a %s that holds all, in order, at the rate asked for",
    async (kind) => {
      const [width, height] = [24, 10];
      const pictures = new Uint8Array(3 * width * height * 4);
      for (let k = 0; k < 4; k++) pictures.fill(60 * k, 3 * width * height * k, 3 * width * height * (k + 1));
      const file = await joinPictures({ width, height, pictures, framesPerSecond: 12.5 }, kind);
      expect(await sharp(file, { animated: true }).metadata()).toMatchObject({
        format: kind,
        pages: 4,
        delay: [80, 80, 80, 80],
        width,
        pageHeight: height,
        loop: 0,
      });
      const { data, info } = await sharp(file, { animated: true })
        .raw()
        .toBuffer({ resolveWithObject: true });
      const shown = [0, 1, 2, 3].map((k) => data[k * height * width * info.channels]);
      for (const [k, grey] of shown.entries()) expect(Math.abs(grey - 60 * k)).toBeLessThanOrEqual(3);
      await expect(
        joinPictures({ width, height, pictures: pictures.subarray(1), framesPerSecond: 9 }, kind),
      ).rejects.toThrow(RangeError);
    },
  );
});
