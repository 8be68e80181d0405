import ndarray from "ndarray";
import { expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { seededNormal } from "./render-take.js";

const [rows, columns] = [90, 104];
const numbers = Array.from({ length: 34 }, (_, k) => k);
const [speed, start] = [1.6, 3];

const normal = seededNormal(7);
const pictures = numbers.map((number) => {
  const since = number - start;
  const flash = since < 0 ? 0 : 650 * Math.exp(-since / 6);
  return Uint8Array.from({ length: rows * columns }, (_, k) => {
    const radius = Math.hypot((k % columns) - 52.3, Math.floor(k / columns) - 44.2);
    const ring = since < 0 ? 0 : 60 * Math.exp(-((radius - speed * since) ** 2) / 3);
    const light = 50 + ring + flash * Math.exp(-radius / 7) + normal();
    return Math.max(0, Math.min(255, Math.round(light)));
  });
});

it("a ring that runs out of a flash is measured along its radius, where the flash fades as it runs", async () => {
  const frames = {
    name: "invented",
    numbers,
    rows,
    columns,
    bitDepth: 8,
    async *frames({ start: from = 0, end = numbers.length }: { start?: number; end?: number } = {}) {
      for (let index = from; index < end; index++)
        yield { index, number: index, frame: ndarray(pictures[index], [rows, columns]) };
    },
  };
  const known = { rateHz: 1e3, rateUncertaintyHz: 0, metresPerPixel: 1e-3, metresPerPixelUncertainty: 0 };
  const { result } = await measureTake({ frames }, known);
  if (result.status !== "measured") throw new Error(JSON.stringify(result.warnings));
  expect(result.shape).toMatchObject({ name: "circle", measuredAlong: "radius" });
  expect(Math.abs(result.speed.value - speed)).toBeLessThan(result.speed.expandedUncertainty);
  expect(result.speed.expandedUncertainty).toBeLessThan(0.01 * speed);
}, 120_000);
