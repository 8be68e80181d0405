import { describe, expect, it } from "vitest";
import {
  type CrackScene,
  courseOf,
  lengthOf,
  renderCracks,
} from "../../../scripts/accuracy/cracks/render-cracks.js";
import { type CrackNetwork, crackNetwork, type Point } from "../src/index.js";

const picture = { rows: 90, columns: 140, count: 20, depth: -40, noise: 2 };
const all = { start: 0, end: picture.count };
/** Open from the sixth frame on. */
const opens = (time: number) => (time < 6 ? -50 : 1e3);
const opensLater = (time: number) => (time < 20 ? -50 : 1e3);

const find = (scene: Partial<CrackScene> & Pick<CrackScene, "cracks">): Promise<CrackNetwork | null> =>
  crackNetwork(renderCracks({ ...picture, ...scene }), all);

describe("crackNetwork", () => {
  it("follows a curved crack by its middle, and its length to two thousandths", async () => {
    const across = (x: number) => 45 + 22 * Math.sin((2.6 * (x - 15)) / 110);
    const course = courseOf((s): Point => [15 + 110 * s, across(15 + 110 * s)]);
    const network = await find({ cracks: [{ course, length: opens }] });
    expect(network?.lines).toHaveLength(1);
    const { points } = network!.lines[0];
    const inner = points.slice(6, -6);
    for (const [x, y] of inner) expect(Math.abs(y - across(x))).toBeLessThan(0.25);
    const [first, last] = [inner[0][0], inner[inner.length - 1][0]];
    const steps = 5000;
    const truth = lengthOf(
      Array.from({ length: steps + 1 }, (_, k): Point => {
        const x = first + (k * (last - first)) / steps;
        return [x, across(x)];
      }),
    );
    expect(Math.abs((inner.length - 1) / truth - 1)).toBeLessThan(0.002);
  });

  it.each([-40, 40])("names the sense of a change by %i samples", async (depth) => {
    const course = courseOf((s): Point => [20 + 100 * s, 20 + 50 * s]);
    const network = await find({ depth, cracks: [{ course, length: opens }] });
    expect(network?.polarity).toBe(depth < 0 ? "dark" : "bright");
  });

  it("parts a crack where it branches: three lines that share a node there", async () => {
    const stem = courseOf((s): Point => [10 + 55 * s, 45]);
    const arms = [0.5, -0.6].map((slope) => courseOf((s): Point => [65 + 60 * s, 45 + slope * 60 * s]));
    const network = await find({ cracks: [stem, ...arms].map((course) => ({ course, length: opens })) });
    expect(network?.lines).toHaveLength(3);
    const shared = network!.nodes.findIndex((_, node) =>
      network!.lines.every(({ from, to }) => from === node || to === node),
    );
    expect(shared).toBeGreaterThanOrEqual(0);
    const [x, y] = network!.nodes[shared];
    expect(Math.hypot(x - 65, y - 45)).toBeLessThan(5);
  });

  it("sees no lines where nothing changes, where all grows brighter, and where half of the picture changes", async () => {
    expect(await find({ cracks: [] })).toBeNull();
    const course = courseOf((s): Point => [20 + 100 * s, 45]);
    const still = renderCracks({ ...picture, cracks: [{ course, length: () => 1e3 }] });
    expect(await crackNetwork(still, all)).toBeNull();
    const bands = Array.from({ length: 15 }, (_, k): Point[] => [
      [5, 3 + 3 * k],
      [135, 3 + 3 * k],
    ]);
    expect(await find({ cracks: bands.map((band) => ({ course: band, length: opens })) })).toBeNull();
  });

  it("takes the way of a spot that flies past in the last frames for no crack, and finds the crack beside it", async () => {
    const course = courseOf((s): Point => [20 + 100 * s, 20 + 50 * s]);
    const long = { ...picture, count: 40 };
    const every = { start: 0, end: 40 };
    const flownOver = (scene: ReturnType<typeof renderCracks>): typeof scene => ({
      ...scene,
      async *frames(range, region, options) {
        for await (const numbered of scene.frames(range, region, options)) {
          const { frame, index } = numbered;
          const [x, y] = [20 + 5 * (index - 20), 82 - 0.1 * (index - 20)];
          const spotAt = (at: number) =>
            Math.exp(-(((at % picture.columns) - x) ** 2 + (Math.floor(at / picture.columns) - y) ** 2) / 8);
          const data = (frame.data as Float32Array).map(
            (value, at) => value - (index < 20 ? 0 : 90 * spotAt(at)),
          );
          yield { ...numbered, frame: { ...frame, data } as typeof frame };
        }
      },
    });
    expect(await crackNetwork(flownOver(renderCracks({ ...long, cracks: [] })), every)).toBeNull();
    const cracked = flownOver(renderCracks({ ...long, cracks: [{ course, length: opens }] }));
    expect((await crackNetwork(cracked, every))?.lines).toHaveLength(1);
  });

  it.each([
    { width: 1.5, noise: 0.02 },
    { width: 2.5, noise: 2 },
    { width: 3.5, noise: 1 },
  ])(
    "takes a crack of $width px in standard deviation for a line, however far its foot stands out of noise of $noise",
    async ({ width, noise }) => {
      const across = (x: number) => 45 + 12 * Math.sin((2.6 * (x - 15)) / 110);
      const course = courseOf((s): Point => [15 + 110 * s, across(15 + 110 * s)]);
      const network = await find({ depth: -60, width, noise, cracks: [{ course, length: opens }] });
      expect(network?.lines).toHaveLength(1);
      const { points } = network!.lines[0];
      for (const [x, y] of points.slice(10, -10)) expect(Math.abs(y - across(x))).toBeLessThan(0.5);
    },
  );

  it("takes a band that is wider than 10 px at half of its depth for no line", async () => {
    const course = courseOf((s): Point => [20 + 100 * s, 45]);
    expect(await find({ depth: -60, width: 5, cracks: [{ course, length: opens }] })).toBeNull();
  });

  it.each([1, 2])(
    "keeps to the middle of a crack of %i px that runs out of the picture, and ends in it",
    async (width) => {
      const at = (s: number): Point => [30 + 90 * s, 70 - 90 * s];
      const network = await find({ depth: -60, width, cracks: [{ course: courseOf(at), length: opens }] });
      expect(network?.lines).toHaveLength(1);
      const { points } = network!.lines[0];
      const [last] = points.toSorted(([, a], [, b]) => a - b);
      expect(last[1]).toBeGreaterThanOrEqual(0);
      expect(last[1]).toBeLessThan(6);
      for (const [x, y] of points.filter(([, y]) => y < 55))
        expect(Math.abs(x + y - 100) / Math.SQRT2).toBeLessThan(0.5);
    },
  );

  it("finds a dark crack below bright dust that still falls in the last frames", async () => {
    const course = courseOf((s): Point => [20 + 100 * s, 20 + 50 * s]);
    const scene = renderCracks({ ...picture, count: 60, cracks: [{ course, length: opens }] });
    const grains = Array.from({ length: 8 }, (_, k) => [8 + 16 * k, (37 * k) % 60]);
    const dusty: typeof scene = {
      ...scene,
      async *frames(range, region, options) {
        for await (const numbered of scene.frames(range, region, options)) {
          const { frame, index } = numbered;
          const data = (frame.data as Float32Array).slice();
          for (const [x, y] of grains)
            for (let r = 0; r < 4; r++)
              for (let c = 0; c < 4; c++) {
                const row = Math.round(y + 2.5 * (index - 52)) + r;
                if (index > 10 && row >= 0 && row < picture.rows) data[row * picture.columns + x + c] = 190;
              }
          yield { ...numbered, frame: { ...frame, data } as typeof frame };
        }
      },
    };
    const network = await crackNetwork(dusty, { start: 0, end: 60 });
    expect(network?.polarity).toBe("dark");
    expect(network?.lines.some(({ length }) => length > 90)).toBe(true);
  });

  it("divides a lamp that grows a little brighter out of the change, and says nothing where it grows much brighter", async () => {
    const course = courseOf((s): Point => [20 + 100 * s, 20 + 50 * s]);
    const scene = renderCracks({ ...picture, cracks: [{ course, length: opens }] });
    const brighter = (perFrame: number): typeof scene => ({
      ...scene,
      async *frames(range, region, options) {
        for await (const numbered of scene.frames(range, region, options)) {
          const { frame, index } = numbered;
          const data = (frame.data as Float32Array).map((value) => value * (1 + perFrame * index));
          yield { ...numbered, frame: { ...frame, data } as typeof frame };
        }
      },
    });
    expect((await crackNetwork(brighter(0.002), all))?.lines).toHaveLength(1);
    expect(await crackNetwork(brighter(0.02), all)).toBeNull();
  });

  it.each([2, 3, 16])(
    "says how far a line stands out over the noise of a pixel: %i times",
    async (contrast) => {
      const course = courseOf((s): Point => [15 + 110 * s, 15 + 55 * s]);
      const cracks = [{ course, length: opensLater }];
      for (const seed of [1, 2, 3]) {
        const scene = renderCracks({ ...picture, count: 60, depth: -2 * contrast, seed, cracks });
        const network = await crackNetwork(scene, { start: 0, end: 60 });
        // Pixels beside the middle are less deep, and a median of some 70 pixels in 8 frames scatters by 0.08.
        expect(Math.abs(network!.contrast - contrast)).toBeLessThan(0.04 * contrast + 3 * 0.08);
      }
    },
  );

  it("takes the contrast of a line that still grows from the very last frames, to 12 %", async () => {
    const course = courseOf((s): Point => [15 + 110 * s, 15 + 55 * s]);
    // Three frames are averaged, and most of the line opens in them.
    const grows = (time: number) => (time < 6 ? -50 : time < 18 ? 30 : 1e3);
    const network = await find({ depth: -24, cracks: [{ course, length: grows }] });
    expect(Math.abs(network!.contrast / 12 - 1)).toBeLessThan(0.12);
  });

  it("tells the noise of a pixel where the light flickers and every other frame is a copy", async () => {
    const course = courseOf((s): Point => [15 + 110 * s, 15 + 55 * s]);
    const scene = renderCracks({
      ...picture,
      count: 60,
      depth: -12,
      cracks: [{ course, length: opensLater }],
    });
    const copied: typeof scene = {
      ...scene,
      async *frames({ start = 0, end = 60 } = {}) {
        for (let index = start; index < end; index++)
          for await (const { frame } of scene.frames({
            start: index - (index % 2),
            end: index - (index % 2) + 1,
          })) {
            const data = (frame.data as Float32Array).map(
              (value) => value * (1 + 0.04 * Math.sin(2 * index)),
            );
            yield { index, number: index, frame: { ...frame, data } as typeof frame };
          }
      },
    };
    const network = await crackNetwork(copied, { start: 0, end: 60 });
    expect(Math.abs(network!.contrast / 6 - 1)).toBeLessThan(0.1);
  });

  it("stops with the reason of its signal", async () => {
    const stop = new AbortController();
    stop.abort(new Error("enough"));
    const scene = renderCracks({ ...picture, cracks: [] });
    await expect(crackNetwork(scene, all, stop.signal)).rejects.toThrow("enough");
  });
});
