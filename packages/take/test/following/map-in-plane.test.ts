import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { mapFiles, mapQuantities, measureTake } from "../../src/index.js";

const [rows, columns, count] = [40, 56, 40];
const angle = (30 * Math.PI) / 180;
const speed = 3;

/** An invented straight front at 30 degrees, 3 px a frame, that is at the top left corner in frame 8. */
const frames = {
  name: "invented",
  numbers: Array.from({ length: count }, (_, k) => k),
  rows,
  columns,
  bitDepth: 32,
  async *frames({ start = 0, end = count }: { start?: number; end?: number } = {}) {
    for (let index = start; index < end; index++) {
      const samples = Float32Array.from({ length: rows * columns }, (_, k) => {
        const [x, y] = [k % columns, Math.floor(k / columns)];
        const ahead = x * Math.cos(angle) + y * Math.sin(angle) - speed * (index - 8);
        // A little noise that differs from frame to frame.
        return 100 + 50 / (1 + Math.exp(1.2 * ahead)) + 2 * Math.sin(12.9898 * k + 78.233 * index);
      });
      yield { index, number: index, frame: ndarray(samples, [rows, columns]) };
    }
  },
};
const options = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 1e-3, metresPerPixelUncertainty: 0 };
const path: [[number, number], [number, number]] = [
  [4, 20],
  [52, 20],
];

describe("the arrival map of a take", () => {
  it("goes with a result that was measured by it, with its arrays in SI units", async () => {
    const { result, arrival } = await measureTake({ frames }, options);
    expect(result.shape?.measuredAlong).toBe("path");
    expect(result.map).toMatchObject({ cell: 1, rows, columns, kind: "stays", metresPerPixel: 1e-3 });
    const quantities = await mapQuantities(arrival!);
    expect(Object.keys(mapFiles(quantities))).toEqual(result.map!.arrays.map(({ file }) => file));
    const at = 20 * columns + 28;
    const due = (8 + (28 * Math.cos(angle) + 20 * Math.sin(angle)) / speed) / 1e5;
    // Four standard uncertainties, which are those of a fraction of a frame and of a tenth of the speed at most.
    const [u, uSpeed] = [quantities.arrivalUncertaintySeconds[at], quantities.speedUncertainty![at]];
    expect(u).toBeLessThan(0.4e-5);
    expect(uSpeed).toBeLessThan(30);
    expect(Math.abs(quantities.arrivalSeconds[at] - due)).toBeLessThan(4 * u);
    expect(Math.abs(quantities.speed![at] - speed * 1e-3 * 1e5)).toBeLessThan(4 * uSpeed);
    expect(Math.abs(quantities.directionDegrees![at] - 30)).toBeLessThan(10);
    // The frame shown is the one in which half of the picture is behind the front.
    const half = 8 + (27.5 * Math.cos(angle) + 19.5 * Math.sin(angle)) / speed;
    expect(Math.abs(result.map!.stillFrame - half)).toBeLessThan(1);
  });

  it("along a given path goes with a result only where it is asked for, and changes no figure of it", async () => {
    const without = await measureTake({ frames }, { ...options, path });
    expect([without.arrival, without.result.map]).toEqual([null, undefined]);
    const { result, arrival } = await measureTake({ frames }, { ...options, path, map: true });
    expect(arrival?.map.rows).toBe(rows);
    const { map, ...rest } = result;
    expect(map?.cellsWithArrival).toBeGreaterThan(0.5 * rows * columns);
    expect(rest).toEqual(without.result);
  });

  it("says no local speed at the origin of a circle, where a plane does not fit", async () => {
    const { arrival } = await measureTake({ frames }, options);
    const { speed } = await mapQuantities({ ...arrival!, origin: [28, 20] });
    const at = (x: number, y: number) => speed![y * columns + x];
    for (const [x, y] of [
      [28, 20],
      [35, 20],
      [28, 13],
    ])
      expect(at(x, y)).toBeNaN();
    expect(at(38, 20)).toBeGreaterThan(0);
  });

  it("that is asked for but cannot be made is a warning that says why", async () => {
    const asked = { ...options, path, map: true, firstFrame: 8, lastFrame: 12 };
    const { result, arrival } = await measureTake({ frames }, asked);
    expect(arrival).toBeNull();
    expect(result.warnings).toContainEqual({
      code: "no-map",
      message: "an arrival map was asked for, but it needs at least 7 frames, and 5 were used",
    });
  });
});
