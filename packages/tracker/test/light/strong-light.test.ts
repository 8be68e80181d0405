import { describe, expect, it } from "vitest";
import { render } from "../support/render.js";
import { expectCovered, frames, track } from "../support/track.js";

const SPEED = 1.37;

/** Invented: dirt of a tenth, noise a fortieth of the step. */
function takeOf(light: (number: number) => number, shape: "step" | "pulse", seed: number) {
  const dirt = (row: number, column: number) => 1 + 0.1 * Math.sin(column / 2.3 + row);
  const frontAt = (time: number) => 10 + SPEED * time;
  return render({ numbers: frames(60), rows: 16, columns: 110, frontAt, noise: 2, dirt, shape, seed, light });
}

const LIGHTS = [
  { name: "falls to a quarter", light: (number: number) => 1 - (0.75 * number) / 60 },
  { name: "rises fourfold", light: (number: number) => 0.25 + (0.75 * number) / 60 },
  { name: "decays to a fifth", light: (number: number) => Math.exp(-number / 37) },
  { name: "is weaker in every second frame", light: (number: number) => (number % 2 ? 0.45 : 1) },
];

describe("light that changes more than twofold while a front runs", () => {
  it.each(LIGHTS.flatMap((light) => (["step", "pulse"] as const).map((shape) => ({ ...light, shape }))))(
    "$name, $shape: divided out, said so, the interval holds",
    async ({ light, shape }) => {
      const found = await track(takeOf(light, shape, 11));
      expectCovered(found, SPEED);
      expect(found.codes).toContain("flicker-divided-out");
    },
  );

  it("leaves frames dark: they are left out, said so, the interval holds", async () => {
    for (const isDark of [(n: number) => n % 2 === 0, (n: number) => n % 3 !== 0]) {
      const found = await track(takeOf((number) => (isDark(number) ? 0.03 : 1), "step", 12));
      expectCovered(found, SPEED);
      expect(found.codes).toContain("unlit-frames");
    }
  });
});
