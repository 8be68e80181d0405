import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { render } from "./support/render.js";
import { seededUniform } from "./support/seeded-normal.js";
import { expectRelative, frames, track } from "./support/track.js";

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
  it.each(LIGHTS)("$name: divided out, said so, the speed within 1 %", async ({ light }) => {
    const { line, codes } = await track(takeOf(light, 4));
    expectRelative(line.slopePixelsPerFrame, SPEED, 0.01);
    expect(codes).toContain("flicker-divided-out");
  });

  it.each(LIGHTS)("$name: over a still picture is no front", async ({ light }) => {
    expect((await trackFront(takeOf(light, 4, false))).status).toBe("not-found");
  });

  it("steady light gives no such warning", async () => {
    expect((await track(takeOf(() => 1, 4))).codes).not.toContain("flicker-divided-out");
  });
});
