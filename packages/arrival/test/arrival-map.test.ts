import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { type ArrivalMap, arrivalMap } from "../src/index.js";
import { renderScene, type Scene } from "./support/render.js";

const frames = (count: number) => Array.from({ length: count }, (_, k) => k);
const [rows, columns] = [48, 64];
const angle = Math.PI / 6;
const along = (x: number, y: number) => x * Math.cos(angle) + y * Math.sin(angle);
const speed = 1.3;
const arrivalAt = (x: number, y: number) => 14 + along(x, y) / speed;
const oblique: Scene = {
  numbers: frames(90),
  rows,
  columns,
  past: (x, y, time) => speed * (time - arrivalAt(x, y)),
};

/** Errors of the arrivals, frames. */
function errors(map: ArrivalMap, truth: (x: number, y: number) => number) {
  const misses: number[] = [];
  map.arrival.forEach((time, i) => {
    if (Number.isNaN(time)) return;
    const x = ((i % map.columns) + 0.5) * map.cell - 0.5;
    const y = (Math.floor(i / map.columns) + 0.5) * map.cell - 0.5;
    misses.push(time - truth(x, y));
  });
  const mean = misses.reduce((sum, miss) => sum + miss, 0) / misses.length;
  const rms = Math.sqrt(misses.reduce((sum, miss) => sum + miss ** 2, 0) / misses.length);
  return { share: misses.length / map.arrival.length, mean, rms };
}

describe("arrivalMap", () => {
  it("reads a long take twice, a short one once, and gives the same", async () => {
    const [rows, columns] = [200, 200];
    const past = (x: number, _: number, time: number) => 2 * (time - 20) - x;
    let reads = 0;
    const count = async (frames: number) => {
      reads = 0;
      const scene = renderScene({
        numbers: Array.from({ length: frames }, (_, k) => k),
        rows,
        columns,
        past,
      });
      return arrivalMap({
        ...scene,
        frames(...args) {
          reads++;
          return scene.frames(...args);
        },
      });
    };
    const short = await count(160);
    expect(reads).toBe(1);
    // 40,000 cells of 4 bytes: 64 MB are 400 frames.
    const long = await count(401);
    expect(reads).toBe(2);
    const apart = long.arrival.map((time, i) => Math.abs(time - short.arrival[i]));
    expect(apart.filter((value) => value < 1e-3).length).toBeGreaterThan(0.95 * apart.length);
  });

  it("times a noiseless oblique front to a thousandth of a frame everywhere", async () => {
    const map = await arrivalMap(renderScene(oblique));
    const { share, rms } = errors(map, arrivalAt);
    expect(map.kind).toBe("stays");
    expect(map.polarity).toBe("bright");
    expect(share).toBeGreaterThan(0.99);
    // Frames one apart sum the area of an edge of 0.8 frames' deviation to exp(-2 pi² 0.64)/pi.
    expect(rms).toBeLessThan(1e-3);
  });

  it("knows its errors under noise: their root mean square is the stated uncertainty within a tenth", async () => {
    const map = await arrivalMap(renderScene({ ...oblique, noise: 2, seed: 5 }));
    const { rms, mean, share } = errors(map, arrivalAt);
    const stated = Math.sqrt(
      map.standardUncertainty.reduce((sum, u) => sum + (Number.isNaN(u) ? 0 : u * u), 0) /
        (share * map.arrival.length),
    );
    expect(Math.abs(rms / stated - 1)).toBeLessThan(0.1);
    expect(Math.abs(mean)).toBeLessThan(0.01);
    expect(Math.abs(map.noise / 2 - 1)).toBeLessThan(0.1);
  });

  it("gives the mirrored arrivals of a mirrored take, and later ones of frames with later numbers", async () => {
    const scene = { ...oblique, noise: 0 };
    const map = await arrivalMap(renderScene(scene));
    const mirrored = await arrivalMap(
      renderScene({ ...scene, past: (x, y, time) => scene.past(columns - 1 - x, y, time) }),
    );
    const later = await arrivalMap(
      renderScene({
        ...scene,
        numbers: scene.numbers.map((number) => number + 1000),
        past: (x, y, time) => scene.past(x, y, time - 1000),
      }),
    );
    for (let i = 0; i < map.arrival.length; i++) {
      if (Number.isNaN(map.arrival[i])) continue;
      const twin = Math.floor(i / columns) * columns + (columns - 1 - (i % columns));
      expect(Math.abs(mirrored.arrival[twin] - map.arrival[i])).toBeLessThan(1e-4);
      expect(Math.abs(later.arrival[i] - map.arrival[i] - 1000)).toBeLessThan(1e-4);
    }
  });

  it("times a dark front, under flicker of 8 % and dirt, as well as a clean one", async () => {
    const map = await arrivalMap(
      renderScene({
        ...oblique,
        step: -40,
        noise: 1,
        light: (number) => 1 + 0.08 * Math.sin(1.9 * number),
        dirt: (x, y) => 1 - 0.3 * Math.exp(-((x - 20) ** 2 + (y - 20) ** 2) / 8),
      }),
    );
    expect(map.polarity).toBe("dark");
    expect(map.flickers).toBe(true);
    const { rms, share, mean } = errors(map, arrivalAt);
    expect(share).toBeGreaterThan(0.98);
    expect(rms).toBeLessThan(0.15);
    expect(Math.abs(mean)).toBeLessThan(0.01);
  });

  it("lets a missing frame be a gap in time", async () => {
    const numbers = oblique.numbers.filter((number) => number % 17 !== 3);
    const map = await arrivalMap(renderScene({ ...oblique, numbers }));
    const { rms, mean } = errors(map, arrivalAt);
    expect(Math.abs(mean)).toBeLessThan(0.01);
    expect(rms).toBeLessThan(0.1);
  });

  it("times a thin ring that passes and leaves nothing", async () => {
    const truth = (x: number, y: number) => 14 + Math.hypot(x - 10, y - 20) / speed;
    const map = await arrivalMap(
      renderScene({
        ...oblique,
        shape: "ring",
        noise: 1,
        past: (x, y, time) => speed * (time - truth(x, y)),
      }),
    );
    expect(map.kind).toBe("passes");
    const { share, rms } = errors(map, truth);
    expect(share).toBeGreaterThan(0.95);
    expect(rms).toBeLessThan(0.3);
  });

  it("does not take a small glint that fades, far brighter than the picture, for its light", async () => {
    const [rows, columns] = [60, 80];
    const scene = renderScene({
      numbers: frames(40),
      rows,
      columns,
      past: (x, y, time) => 2 * (time - 3) - Math.hypot(x - 50, y - 24),
      blurPixels: 2,
      shape: "ring",
      before: 50,
      step: 55,
      noise: 1,
    });
    const map = await arrivalMap({
      ...scene,
      async *frames(...args) {
        for await (const { frame, ...one } of scene.frames(...args)) {
          const glint = one.number < 3 ? 0 : 650 * Math.exp(-(one.number - 3) / 6);
          for (let y = 0; y < rows; y++)
            for (let x = 0; x < columns; x++) {
              const light = glint * Math.exp(-((x - 12) ** 2 + (y - 45) ** 2) / 18);
              frame.set(y, x, Math.min(255, frame.get(y, x) + light));
            }
          yield { ...one, frame };
        }
      },
    });
    expect(map.flickers).toBe(false);
  });

  it("finds a front that is a third of the noise, in larger cells", async () => {
    const map = await arrivalMap(
      renderScene({ ...oblique, rows: 80, columns: 96, numbers: frames(140), noise: 180, step: 60 }),
    );
    expect(map.cell).toBeGreaterThan(1);
    expect(errors(map, arrivalAt).share).toBeGreaterThan(0.5);
  });

  it("shows no arrival where nothing changes", async () => {
    const map = await arrivalMap(renderScene({ ...oblique, step: 0, noise: 2 }));
    expect(map.arrival.every(Number.isNaN)).toBe(true);
  });

  it("reads samples by their stride, and means of cells", async () => {
    const upright = renderScene(oblique);
    const turned = {
      ...upright,
      async *frames(range?: { start?: number; end?: number }) {
        for await (const { index, number, frame } of upright.frames(range)) {
          const data = new Float32Array(rows * columns);
          for (let r = 0; r < rows; r++)
            for (let c = 0; c < columns; c++) data[c * rows + r] = frame.get(r, c);
          yield { index, number, frame: ndarray(data, [rows, columns], [1, rows]) };
        }
      },
    };
    const map = await arrivalMap(turned, { cell: 4 });
    expect([map.rows, map.columns]).toEqual([12, 16]);
    expect(errors(map, arrivalAt).rms).toBeLessThan(0.01);
  });

  it("says what is wrong with a cell, a range, a sample, and stops when told to", async () => {
    await expect(arrivalMap(renderScene(oblique), { cell: 0 })).rejects.toThrow("got 0");
    await expect(arrivalMap(renderScene(oblique), { firstFrame: 86 })).rejects.toThrow(
      "at least 7 frames, got 4",
    );
    await expect(arrivalMap(renderScene({ ...oblique, before: Number.NaN }))).rejects.toMatchObject({
      code: "samples-not-finite",
      message: expect.stringMatching(
        /^frame 0 must hold finite samples, got NaN or infinity in the 1 x 1 px/,
      ),
    });
    const stop = new AbortController();
    stop.abort(new Error("stopped"));
    await expect(arrivalMap(renderScene(oblique), { signal: stop.signal })).rejects.toThrow("stopped");
  });
});
