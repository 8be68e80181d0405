import { describe, expect, it } from "vitest";
import { seededNormal, seededUniform } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { render, sourceOf } from "../support/render.js";
import { expectCovered, frames, track } from "../support/track.js";

const SPEED = 1.37;

/** Invented: noise a fortieth of the step. */
function takeOf(light: (number: number) => number, seed: number, moves = true) {
  const frontAt = (time: number) => (moves ? 10 + SPEED * time : -50);
  return render({ numbers: frames(60), rows: 16, columns: 110, frontAt, noise: 2, seed, light });
}

const sine = (depth: number, period: number) => (number: number) =>
  1 + depth * Math.sin((2 * Math.PI * number) / period);

function random(seed: number) {
  const uniform = seededUniform(seed);
  const light = frames(60).map(() => 0.85 + 0.3 * uniform());
  return (number: number) => light[number];
}

const LIGHTS = [
  ...[2.3, 5, 13, 40].map((period) => ({ name: `15 %, period ${period}`, light: sine(0.15, period) })),
  { name: "5 %, period 7.7", light: sine(0.05, 7.7) },
  ...[77, 78].map((seed) => ({ name: `random within 15 %, seed ${seed}`, light: random(seed) })),
];

describe("flicker of the whole picture", () => {
  it.each(LIGHTS)("$name: divided out, said so, the interval holds", async ({ light }) => {
    const found = await track(takeOf(light, 4));
    expectCovered(found, SPEED);
    expect(found.codes).toContain("flicker-divided-out");
  });

  it.each(LIGHTS)("$name: over a still picture is no front", async ({ light }) => {
    expect((await trackFront(takeOf(light, 4, false))).status).toBe("not-found");
  });

  it.each([0.005, 0.02, 0.05, 0.15, -0.15])(
    "a jump by %f while the front runs: divided out, the interval holds",
    async (depth) => {
      for (const seed of [4, 5]) {
        const found = await track(takeOf((number) => (number < 30 ? 1 : 1 + depth), seed));
        expectCovered(found, SPEED);
        expect(found.codes).toContain("flicker-divided-out");
      }
    },
  );

  it("a level behind the front that drifts is not taken for the light", async () => {
    const normal = seededNormal(9);
    const source = sourceOf({ numbers: frames(60), rows: 16, columns: 110 }, (_, column, number) => {
      const age = number - (column - 10) / SPEED;
      return 100 + (80 + 0.2 * Math.max(0, age)) / (1 + Math.exp(-2 * age)) + 2 * normal();
    });
    expect((await track(source)).codes).not.toContain("flicker-divided-out");
  });

  /** A level behind the front that decays with distance from it to a third along the path, over a speckled picture. */
  function decayingTake(light: (number: number) => number, seed: number, speed: number) {
    const normal = seededNormal(seed);
    const texture = Float64Array.from({ length: 160 * 16 }, () => 60 + 5 * normal());
    const numbers = frames(Math.round(180 / speed) + 16);
    return sourceOf({ numbers, rows: 16, columns: 160, bitDepth: 8 }, (row, column, number) => {
      const behind = speed * (number - 8) - 10 - column;
      const rise = 70 / (1 + Math.exp(-1.2 * behind));
      const level = texture[row * 160 + column] + rise * Math.exp(-Math.max(0, behind) / 70);
      return level * light(number) + 3 * normal();
    });
  }

  it.each([
    { speed: 1.13, seed: 100 },
    { speed: 2.31, seed: 101 },
  ])(
    "a level that decays behind a front at $speed under steady light: nothing is divided out, the interval holds",
    async ({ speed, seed }) => {
      const found = await track(decayingTake(() => 1, seed, speed));
      expect(found.codes).not.toContain("flicker-divided-out");
      expectCovered(found, speed);
    },
  );

  it("a level that decays behind the front, and light that flickers by 10 %: the light alone is divided out, the interval holds", async () => {
    const outcome = await trackFront(decayingTake(sine(0.05, 7.7), 101, 2.31));
    if (outcome.status !== "tracked") throw new Error(outcome.status);
    expectCovered(outcome.track, 2.31);
    const message = outcome.warnings.find(({ code }) => code === "flicker-divided-out")?.message ?? "";
    // Peak to peak, to which the noise adds; the decay would make it more than 40 %.
    const depth = Number(/varies by ([\d.]+) %/.exec(message)?.[1]);
    expect(depth).toBeGreaterThan(9);
    expect(depth).toBeLessThan(13);
  });

  it("a front that crosses within three frames is not taken for a change of the light, though most of the picture changes from one frame to the next", async () => {
    for (const speed of [24, 33, 60])
      for (const seed of [11, 12]) {
        const frontAt = (time: number) => speed * (time - 9.3);
        const source = render({
          numbers: frames(18),
          rows: 12,
          columns: Math.round(2.4 * speed),
          frontAt,
          blurPixels: 3.5,
          noise: 8,
          seed,
        });
        const outcome = await trackFront(source);
        expect(outcome.warnings.map(({ code }) => code)).not.toContain("flicker-divided-out");
        if (outcome.status === "tracked") expectCovered(outcome.track, speed);
      }
  });

  it("steady light gives no such warning", async () => {
    expect((await track(takeOf(() => 1, 4))).codes).not.toContain("flicker-divided-out");
  });
});
