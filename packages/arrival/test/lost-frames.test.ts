import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { type ArrivalMap, type ArrivalSource, arrivalMap, frontShape } from "../src/index.js";
import { normalFrom, renderScene, type Scene } from "./support/render.js";

const [rows, columns] = [60, 80];
const origin = [45, 26] as const;
const speed = 1.6;
const circle: Scene = {
  numbers: Array.from({ length: 50 }, (_, k) => k),
  rows,
  columns,
  past: (x, y, time) => speed * (time - 6) - Math.hypot(x - origin[0], y - origin[1]),
  noise: 2,
};

/** The same take with other samples in some frames. */
function withFrames(
  source: ArrivalSource,
  other: (number: number) => ((at: number) => number) | null,
): ArrivalSource {
  return {
    ...source,
    async *frames(...args) {
      for await (const frame of source.frames(...args)) {
        const sample = other(frame.number);
        const data = sample && Float32Array.from({ length: rows * columns }, (_, at) => sample(at));
        yield data ? { ...frame, frame: ndarray(data, [rows, columns]) } : frame;
      }
    },
  };
}

const normal = normalFrom(5);

function speedOf(map: ArrivalMap) {
  const { shape, circle } = frontShape(map);
  return { shape, speed: 1 / (circle?.slownessFramesPerPixel.value ?? Number.NaN) };
}

describe("frames that have nothing to do with the take", () => {
  it.each([
    ["two black ones", 22, 23, (): number => 0],
    ["three black ones with noise", 22, 24, (): number => Math.abs(normal())],
    ["two white ones", 18, 19, (): number => 255],
    ["a white flash as the front starts", 6, 6, (): number => 255],
    ["one of noise", 25, 25, () => 120 + 60 * normal()],
  ] as const)("are taken for frames that are missing: %s", async (_, first, last, value) => {
    const isLost = (number: number) => number >= first && number <= last;
    const map = await arrivalMap(
      withFrames(renderScene(circle), (number) => (isLost(number) ? value : null)),
    );
    const numbers = circle.numbers.filter((number) => !isLost(number));
    const without = await arrivalMap(renderScene({ ...circle, numbers }));
    // Compared as a count: to print how two large arrays differ takes a minute.
    expect(map.arrival.filter((time, i) => !Object.is(time, without.arrival[i])).length).toBe(0);
    expect(speedOf(map).shape).toBe("circle");
  });

  it("are not those behind a lamp that is switched, nor those that the light flickers in", async () => {
    const light = (number: number) => (number < 30 ? 1 : 1.4) * (1 + 0.08 * Math.sin(2.3 * number));
    const found = speedOf(await arrivalMap(renderScene({ ...circle, light })));
    expect(found.shape).toBe("circle");
    expect(Math.abs(found.speed / speed - 1)).toBeLessThan(4e-3);
  });

  it("are not those of a band wider than half the picture that passes it", async () => {
    const past = (x: number, _: number, time: number) => 5 * (time - 8) - x;
    const scene: Scene = { ...circle, past, shape: "ring", blurPixels: 14 };
    const { kind, arrival } = await arrivalMap(renderScene(scene));
    expect(kind).toBe("passes");
    const timed = arrival.reduce((count, time) => count + (Number.isNaN(time) ? 0 : 1), 0);
    expect(timed).toBeGreaterThan(0.9 * rows * columns);
  });
});
