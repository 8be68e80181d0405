import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
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
