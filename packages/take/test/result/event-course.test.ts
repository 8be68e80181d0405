import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readTips } from "../../src/files/read-tips.js";
import { tipsCsv } from "../../src/files/tips-csv.js";
import { openFootage } from "../../src/footage/open-footage.js";
import { measureTake } from "../../src/measure-take.js";
import { eventCourse } from "../../src/result/event-course.js";
import type { MeasuredResult, TipRow } from "../../src/types.js";
import { range, renderTake, TWO_FRONTS, temporaryFolder } from "../render-take.js";

const root = await temporaryFolder();
const known = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 2e-4, metresPerPixelUncertainty: 1e-6 };
const drawn = { numbers: range(-4, 50), pixelsPerFrame: 2, start: 10 };
const take = await renderTake(join(root, "tile"), drawn);
const { result } = await measureTake(take, known);
if (result.status !== "measured") throw new Error(JSON.stringify(result));

describe("the course of an event", () => {
  it("has the front within a pixel of the truth in every frame in which it was read, and nowhere else", () => {
    const { track, take } = result as MeasuredResult;
    for (const { number, fronts } of eventCourse(result, null, 5)) {
      const k = track?.frame.indexOf(number) ?? -1;
      expect(fronts).toHaveLength(k >= 0 ? 1 : 0);
      for (const { place, isFitted } of fronts) {
        const [[x1, y1], [x2, y2]] = place.points ?? [];
        expect(isFitted).toBe(!track?.used[k]);
        expect(Math.abs((x1 + x2) / 2 - (10 + 2 * number))).toBeLessThan(1);
        expect(Math.abs(y2 - y1)).toBeCloseTo(take.width, 6);
      }
    }
  });

  it("counts distance and time from the first reading, and stays within the take", () => {
    const course = eventCourse(result, null, 3);
    const first = result.track?.frame[result.track.used.indexOf(true)] as number;
    const zero = course.find(({ number }) => number === first);
    expect(zero).toMatchObject({ elapsedSeconds: 0, distanceMetres: 0 });
    const later = course.find(({ number }) => number === first + 10);
    expect(later?.elapsedSeconds).toBeCloseTo(1e-4, 12);
    expect(Math.abs((later?.distanceMetres ?? 0) - 4e-3)).toBeLessThan(2e-4);
    expect(course.map(({ number }) => number)).toEqual(
      range(Math.max(-4, first - 3), Math.min(50, result.front.lastFrame + 3)),
    );
    expect(eventCourse(result, null, 1000).map(({ number }) => number)).toEqual(range(-4, 50));
  });

  it("has a rejected reading where the fit has it, and says so", () => {
    const track = result.track as NonNullable<MeasuredResult["track"]>;
    const used = track.used.map((is, k) => is && k !== 12);
    const positionPixels = track.positionPixels.map((at, k) => (k === 12 ? at + 30 : at));
    const spoilt = { ...result, track: { ...track, used, positionPixels } };
    const { number, fronts } = eventCourse(spoilt, null, 0)[12];
    expect(fronts[0].isFitted).toBe(true);
    expect(Math.abs((fronts[0].place.points?.[0][0] ?? 0) - (10 + 2 * number))).toBeLessThan(1);
  });

  it("moves a circle by its radius, and keeps a tilted line's tilt", () => {
    const at = result.track?.frame[5] as number;
    const withPlace = (place: object) =>
      ({ ...result, event: [{ moment: "middle", frame: at, fronts: [place] }] }) as MeasuredResult;
    const moved = (result.track?.positionPixels[9] ?? 0) - (result.track?.positionPixels[5] ?? 0);
    const circle = withPlace({ kind: "circle", centre: [-20, 8], radius: 40 });
    expect(eventCourse(circle, null, 0)[9].fronts[0].place).toEqual({
      kind: "circle",
      centre: [-20, 8],
      radius: 40 + moved,
    });
    const tilted = withPlace({
      kind: "line",
      points: [
        [20, 0],
        [28, 15],
      ],
    });
    const [[x1], [x2]] = eventCourse(tilted, null, 0)[9].fronts[0].place.points ?? [];
    expect([x1, x2]).toEqual([20 + moved, 28 + moved]);
  });

  it("has no place for a front that was only bounded, and every front where none was chosen", async () => {
    const lowerBound = { ...bound, lastFrameBefore: 3, firstFrameAfter: 4 };
    const bounded = { ...result, status: "bounded", speed: null, lowerBound } as never;
    expect(eventCourse(bounded, null, 1).map(({ number, fronts }) => [number, fronts.length])).toEqual([
      [2, 0],
      [3, 0],
      [4, 0],
      [5, 0],
    ]);
    const two = (await measureTake(await renderTake(join(root, "two"), TWO_FRONTS), known)).result;
    expect(two.status).toBe("not-found");
    const numbers = eventCourse(two, null, 0).map(({ fronts }) => fronts.map(({ place }) => place.number));
    expect(new Set(numbers.map((some) => some.join(" ")))).toEqual(new Set(["1", "1 2", "2"]));
  });

  it("of nothing is an error, and of cracks without their tips", () => {
    const nothing = {
      ...result,
      status: "not-found",
      speed: null,
      notFound: { reason: "no-change", message: "no position changed" },
    } as never;
    expect(() => eventCourse(nothing, null, 0)).toThrow(/no front was found in tile \(no position changed\)/);
    expect(() => eventCourse({ ...result, branches: [] }, null, 0)).toThrow(/tips\.csv/);
  });

  const bound = { value: 1, confidence: 0.95 as const, complete: true, missing: [], lengthPixels: 9 };
});

describe("tips of cracks", () => {
  const row: TipRow = {
    branch: 2,
    frame: -7,
    timeSeconds: -7e-5,
    x: 3.25,
    y: 8,
    lengthPixels: 4.5,
    lengthMetres: 9e-4,
    standardUncertaintyPixels: 0.1,
    residualPixels: -0.02,
    used: true,
  };

  it("are read as they were written", async () => {
    const file = join(root, "tips.csv");
    const rows = [row, { ...row, frame: -6, used: false }];
    await writeFile(file, tipsCsv(rows));
    expect(await readTips(file)).toEqual(rows);
    expect(await readTips(join(root, "absent.csv"))).toBeNull();
  });

  it.each([
    ["another header", (text: string) => text.replace("branch", "crack"), /line 1/],
    ["a line too short", (text: string) => text.replace(",true", ""), /line 2/],
    ["no number", (text: string) => text.replace("3.25", "x"), /line 2/],
  ])("with %s are an error that names the line", async (_, spoil, message) => {
    const file = join(root, "spoilt.csv");
    await writeFile(file, spoil(tipsCsv([row])));
    await expect(readTips(file)).rejects.toThrow(message);
  });
});

describe("the footage of a result", () => {
  it("is opened, with the frames that were used", async () => {
    const { frames, range } = await openFootage(result, take);
    await frames.close();
    expect(range).toEqual({ start: 0, end: 55 });
  });

  it.each([
    ["samples", { ...drawn, seed: 2 }, /its samples differ/],
    [
      "a frame less",
      { ...drawn, numbers: range(-4, 49) },
      /does not have the 55 frames from number -4 to 50/,
    ],
    ["another size", { ...drawn, columns: 90 }, /its frames are 90 x 16 px, not 96 x 16 px/],
  ])("of another take (%s) is refused", async (what, other, message) => {
    const folder = await renderTake(join(root, what), other);
    await expect(openFootage(result, folder)).rejects.toThrow(message);
  });

  it("that is not there is an error", async () => {
    await expect(openFootage(result, join(root, "gone"))).rejects.toMatchObject({ code: "footage-missing" });
  });
});
