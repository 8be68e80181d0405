import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { drawFoundPoints, type FoundPointsPicture } from "../../src/index.js";
import { drawMarks } from "../../src/stills/draw-found-points.js";

/** An invented still: dark left of column 20, bright from there on. */
const still: FoundPointsPicture = {
  data: Float64Array.from({ length: 40 * 30 }, (_, at) => (at % 40 < 20 ? 10 : 200)),
  shape: [30, 40],
  points: [
    [5, 6],
    [34, 6],
    [5, 25],
    [34, 25],
  ],
  joined: "axes",
  title: "Invented grid",
};

const places = (svg: string) =>
  [...svg.matchAll(/translate\(([\d.]+) ([\d.]+)\)" class="(\w+)"/g)].map(([, x, y, kind]) => [
    Number(x),
    Number(y),
    kind,
  ]);

describe("drawFoundPoints", () => {
  test("a circle stands about the middle of each point's pixel, the first one marked and drawn last", () => {
    expect(places(drawMarks(still, 4))).toEqual([
      [138, 102, "point"],
      [22, 102, "point"],
      [138, 26, "point"],
      [22, 26, "first"],
    ]);
  });

  test("lengths are joined in pairs, grids in the order in which they were read", () => {
    const path = (joined: FoundPointsPicture["joined"]) =>
      /<path d="([^"]*)" fill="none" stroke="#4fd8ff" stroke-width="1"/.exec(
        drawMarks({ ...still, joined }, 1),
      )?.[1];
    expect(path("pairs")).toBe("M5.5 6.5L34.5 6.5M5.5 25.5L34.5 25.5");
    expect(path("axes")).toBe("M5.5 6.5L34.5 6.5L5.5 25.5L34.5 25.5");
  });

  test("shows the still enlarged, dark and bright where they are", async () => {
    const { data, info } = await sharp(await drawFoundPoints({ ...still, points: [] }))
      .raw()
      .toBuffer({ resolveWithObject: true });
    // 24 px of margin, and six picture pixels to one of the still
    const grey = (column: number, row: number) => {
      const [x, y] = [24 + 6 * column + 3, info.height - 24 - 6 * (30 - row) + 3];
      return data[(y * info.width + x) * info.channels];
    };
    expect([grey(0, 0), grey(19, 29), grey(20, 0), grey(39, 29)]).toEqual([0, 0, 255, 255]);
    expect(info.width).toBe(6 * 40 + 48);
  });

  test("gives the same bytes for the same picture", async () => {
    expect(await drawFoundPoints(still)).toEqual(await drawFoundPoints(still));
  });

  test.each<[Partial<FoundPointsPicture>, string]>([
    [{ shape: [30, 0] }, "shape must hold whole numbers >= 1, got [30, 0]"],
    [{ shape: [30, 41] }, "data must hold rows x columns = 1230 values, got 1200"],
    [{ points: [[1, Number.NaN]] }, "points[0] must be finite, got 1,NaN"],
    [{ points: [[1, 2]], joined: "pairs" }, "points must be in pairs, got 1"],
  ])("%j is a RangeError that names argument, rule and value", async (change, message) => {
    await expect(drawFoundPoints({ ...still, ...change })).rejects.toThrow(new RangeError(message));
  });
});
