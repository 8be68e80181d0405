import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { eventCourse } from "../src/result/event-course.js";
import { temporaryFolder } from "./render-take.js";

const root = await temporaryFolder();
const [rows, columns] = [56, 72];
const known = { rateHz: 1e3, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 };

type Light = (x: number, y: number, time: number) => number;

/** Invented frames of a light, row after row at times counted in frames, with a little noise that differs from frame to frame. */
function framesOf(light: Light, times: readonly number[], rowTime = 0) {
  return {
    name: "invented",
    numbers: times.map((_, k) => k),
    rows,
    columns,
    bitDepth: 32,
    async *frames({ start = 0, end = times.length }: { start?: number; end?: number } = {}) {
      for (let index = start; index < end; index++) {
        const samples = Float32Array.from({ length: rows * columns }, (_, k) => {
          const [x, y] = [k % columns, Math.floor(k / columns)];
          return light(x, y, times[index] + rowTime * y) + 2 * Math.sin(12.9898 * k + 78.233 * index);
        });
        yield { index, number: index, frame: ndarray(samples, [rows, columns]) };
      }
    },
  };
}

const step = (behind: number) => 100 + 50 / (1 + Math.exp(-1.5 * behind));
const straight =
  (speed: number, degrees: number, start = 4): Light =>
  (x, y, time) => {
    const [dx, dy] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
    return step(speed * (time - start) - x * dx - y * dy);
  };
const circle: Light = (x, y, time) => step(1.5 * (time - 5) - Math.hypot(x - 30, y - 25));
const even = (count: number) => Array.from({ length: count }, (_, k) => k);
/** Steps between 0.5 and 1.5 of the mean one, none like another. */
const uneven = even(40).map((k) => k + 0.25 * Math.sin(2.39996 * k * k));

async function measured(frames: ReturnType<typeof framesOf>, options = {}) {
  const { result } = await measureTake({ frames }, { ...known, ...options });
  if (result.status !== "measured") throw new Error(JSON.stringify(result.warnings));
  const { value, expandedUncertainty } = result.speed;
  return { result, value, uncertainty: expandedUncertainty, along: result.shape?.measuredAlong };
}

async function tableOf(times: readonly number[]): Promise<string> {
  const table = join(root, "times.csv");
  await writeFile(table, `frame,time\n${times.map((time, k) => `${k},${time / 1e3}`).join("\n")}\n`);
  return table;
}

describe("the shape of a front whose frames or rows are not even in time", () => {
  it.each([
    ["a straight front at 30 degrees", straight(2.5, 30), 2500, "path"],
    ["a circle", circle, 1500, "radius"],
  ])("%s is measured across itself with uneven timestamps", async (_, light, speed, way) => {
    const timestamps = await tableOf(uneven);
    const { value, uncertainty, along } = await measured(framesOf(light, uneven), { timestamps });
    expect(along).toBe(way);
    expect(Math.abs(value - speed)).toBeLessThan(uncertainty);
    expect(uncertainty).toBeLessThan(0.01 * speed);
  });

  it.each([
    ["a straight front at 60 degrees", straight(2.5, 60), 2500, "path"],
    ["a circle", circle, 1500, "radius"],
  ])(
    "%s is measured across itself where rows are read in turn, and is wrong without their time",
    async (_, light, speed, way) => {
      const rowTime = 0.01;
      const frames = framesOf(light, even(44), rowTime);
      const { value, uncertainty, along } = await measured(frames, { rowTimeSeconds: rowTime / 1e3 });
      expect(along).toBe(way);
      expect(Math.abs(value - speed)).toBeLessThan(uncertainty);
      expect(uncertainty).toBeLessThan(0.01 * speed);
      if (way === "radius") return;
      // A straight front across the rows is read too fast by 1 / (1 - v rowTime sin 60).
      const biased = await measured(frames);
      expect(Math.abs(biased.value - speed / (1 - 2.5 * rowTime * Math.sin(Math.PI / 3)))).toBeLessThan(
        3 * biased.uncertainty,
      );
    },
  );
});

describe("a straight front whose rows are read in turn", () => {
  const rowTime = 0.04;
  const options = { rowTimeSeconds: rowTime / 1e3 };

  it.each([0, 90, 180, 25])(
    "at %i degrees is measured across itself, not across what a frame shows of it",
    async (degrees) => {
      const start = degrees === 180 ? 34 : 4;
      const { result, value, uncertainty } = await measured(
        framesOf(straight(2.5, degrees, start), even(44), rowTime),
        options,
      );
      expect(Math.abs(value - 2500)).toBeLessThan(uncertainty);
      expect(uncertainty).toBeLessThan(25);
      // Seen in the frames, that at 0 degrees is tilted by atan(2.5 * 0.04) = 5.7 degrees.
      const { tilt } = result.front;
      expect(Math.abs(tilt?.degrees ?? 90)).toBeLessThan(0.1);
      expect(result.warnings.map(({ code }) => code)).not.toContain("front-tilted");
    },
  );

  it("that meets a given path at an angle has the tilt of one moment", async () => {
    const path = [
      [0, 28],
      [71, 28],
    ] as const;
    const { result } = await measured(framesOf(straight(2.5, 20), even(44), rowTime), { ...options, path });
    const { degrees = 0, normalSpeed = 0 } = result.front.tilt ?? {};
    expect(Math.abs(degrees + 20)).toBeLessThan(0.2);
    expect(Math.abs(normalSpeed - 2500)).toBeLessThan(20);
  });
});

describe("a round front whose rows are read in turn", () => {
  it("is drawn where each frame shows it, not as the circle that it is at one moment", async () => {
    const rowTime = 0.1;
    const { result } = await measured(framesOf(circle, even(44), rowTime), { rowTimeSeconds: rowTime / 1e3 });
    const shown = [
      ...(result.event ?? []).map(({ frame, fronts }) => ({ number: frame, places: fronts })),
      ...eventCourse(result, null, 0).map(({ number, fronts }) => ({
        number,
        places: fronts.map(({ place }) => place),
      })),
    ].flatMap(({ number, places }) => places.map(({ points = [] }) => ({ number, points })));
    expect(shown.length).toBeGreaterThan(20);
    for (const { number, points } of shown) {
      expect(points.length).toBeGreaterThan(30);
      for (const [x, y] of points)
        expect(Math.abs(Math.hypot(x - 30, y - 25) - 1.5 * (number + rowTime * y - 5))).toBeLessThan(0.5);
    }
  });
});

describe("a front of few frames", () => {
  it.each([
    [6, 9],
    [12, 5],
  ])("at 40 degrees in %i frames is measured across itself, not along rows", async (count, speed) => {
    const { value, uncertainty } = await measured(
      framesOf(straight(speed, 40, count / 2 - 45 / speed), even(count)),
    );
    expect(Math.abs(value - 1000 * speed)).toBeLessThan(uncertainty);
    expect(uncertainty).toBeLessThan(30 * speed);
  });
});
