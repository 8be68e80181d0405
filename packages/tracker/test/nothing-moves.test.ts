import { describe, expect, it } from "vitest";
import { seededNormal, seededUniform } from "../../../test/support/seeded-normal.js";
import { type TrackOptions, trackFront } from "../src/index.js";
import { type InventedTake, render, sourceOf } from "./support/render.js";
import { frames } from "./support/track.js";

const PATH: TrackOptions = {
  path: [
    [0, 8],
    [109, 8],
  ],
};

/** Invented: the front never comes. */
const still = (change: Partial<InventedTake>) =>
  render({
    numbers: frames(60),
    rows: 16,
    columns: 110,
    frontAt: () => -50,
    noise: 2,
    bitDepth: 8,
    ...change,
  });

function dirt(seed: number) {
  const uniform = seededUniform(seed);
  const returned = Array.from({ length: 16 * 110 }, () => 1 - 0.3 * uniform());
  return (row: number, column: number) => returned[row * 110 + column];
}

/** Every pixel drifts (first-order autoregressive, coefficient 0.9), or one in thirty blinks. */
function restless(kind: "drift" | "blink", seed: number) {
  const normal = seededNormal(seed);
  const uniform = seededUniform(seed);
  const [rows, columns] = [12, 80];
  const pixels = Array.from({ length: rows * columns }, () => ({
    drift: normal(),
    blinks: uniform() < 0.03,
    on: false,
  }));
  return sourceOf({ numbers: frames(60), rows, columns }, (row, column) => {
    const pixel = pixels[row * columns + column];
    if (kind === "drift") {
      pixel.drift = 0.9 * pixel.drift + Math.sqrt(1 - 0.81) * normal();
      return 100 + 3 * pixel.drift;
    }
    if (pixel.blinks && uniform() < 0.1) pixel.on = !pixel.on;
    return 100 + 2 * normal() + (pixel.on ? 60 : 0);
  });
}

const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];
const DIRT = { dirt: (_row: number, column: number) => 1 - 0.3 * Math.sin(column / 5) ** 2 };

describe("where nothing moves", () => {
  it.each(SEEDS)("noise alone is no change, seed %i", async (seed) => {
    for (const source of [still({ seed }), still({ seed, dirt: dirt(seed) })])
      for (const options of [{}, PATH])
        expect(await trackFront(source, options)).toMatchObject({ status: "not-found", reason: "no-change" });
  });

  it.each(["drift", "blink"] as const)("pixels that %s by themselves are not a front", async (kind) => {
    for (const seed of [1, 2, 3]) {
      const outcome = await trackFront(restless(kind, seed));
      expect(outcome, `seed ${seed}`).toMatchObject({ status: "not-found" });
    }
  });

  it.each([{}, DIRT])("a lamp that comes on is no propagation", async (change) => {
    const outcome = await trackFront(still({ ...change, light: (number) => (number < 27 ? 1 : 1.4) }));
    expect(outcome).toMatchObject({ status: "not-found", reason: "no-propagation-seen" });
  });

  it("a lamp that takes two frames to come on is no propagation", async () => {
    const light = (number: number) => (number < 27 ? 1 : number === 27 ? 1.2 : 1.4);
    expect(await trackFront(still({ light }))).toMatchObject({
      status: "not-found",
      reason: "no-propagation-seen",
    });
  });

  it.each([1, 2, 3, 4, 5, 6])(
    "a faint lamp that takes four frames over a few noisy positions is no crossing, seed %i",
    async (seed) => {
      const light = (number: number) => 1 + 0.06 * Math.min(1, Math.max(0, (number - 26) / 5));
      const source = still({ columns: 9, noise: 5, bitDepth: 32, light, seed });
      expect((await trackFront(source)).status).toBe("not-found");
    },
  );

  it("a lamp that comes on over a given path is at most a bound, and the warning says why", async () => {
    const outcome = await trackFront(still({ light: (number) => (number < 27 ? 1 : 1.4) }), PATH);
    expect(outcome).toMatchObject({ status: "crossed", lastFrameBefore: 26, firstFrameAfter: 27 });
    expect(outcome.warnings.map(({ code }) => code)).toContain("crossing-not-seen");
  });

  it("that warning names frames by the numbers of their files, also where a table tells their times", async () => {
    const source = still({ light: (number) => (number < 27 ? 1 : 1.4) });
    const timed = { ...source, timeFrames: (number: number) => 5e9 + number };
    const { warnings } = await trackFront(timed, PATH);
    expect(warnings.find(({ code }) => code === "crossing-not-seen")?.message).toMatch(
      /between frame 26 and frame 27,/,
    );
  });

  it.each([2, 3, 4])(
    "%i frames that all show a front under way are said to be too few, before a lamp",
    async (count) => {
      const source = still({ numbers: frames(count), frontAt: (time) => 20 + 20 * time });
      const outcome = await trackFront(source, PATH);
      expect(outcome).toMatchObject({ status: "not-found", reason: "no-propagation-seen" });
      expect("message" in outcome && outcome.message).toMatch(
        new RegExp(`${count} frames are too few .*before and after these.*lamp`),
      );
    },
  );

  it.each([
    { name: "even, steady", change: {}, power: 1, options: {} },
    { name: "even, steady, over a given path", change: {}, power: 1, options: PATH },
    { name: "on uneven glaze, ever faster", change: DIRT, power: 2, options: {} },
  ])("a slow drift of the light is not a front: $name", async ({ change, power, options }) => {
    const light = (number: number) => 1 + 0.3 * (number / 60) ** power;
    const source = still({ ...change, light, seed: 2 });
    expect((await trackFront(source, options)).status).toBe("not-found");
  });
});
