import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { AHEAD, BEHIND } from "../../src/light/sides.js";
import { isSteadyBehind } from "../../src/light/steady-behind.js";

const FRAMES = 64;
const POSITIONS = 40;
const SHAPE = [FRAMES, POSITIONS] as const;
const NOISE = 1;
/** When an invented front passes a position, frames. */
const passes = (p: number) => 5 + p;
const drift = Float64Array.from({ length: FRAMES }, (_, i) => 0.97 + (0.06 * i) / FRAMES);
const flicker = Float64Array.from({ length: FRAMES }, (_, i) => 1 + 0.05 * Math.sin(1.3 * i));

/** Whether what an invented front leaves behind it is steady, of a light that is said to vary.
 *  @param behind  brightness so many frames after the passage
 *  @param light  that there really is */
function isSteady(
  said: Float64Array,
  { behind = () => 140, light = () => 1 }: Partial<Record<"behind" | "light", (frame: number) => number>>,
  seed = 1,
): boolean {
  const normal = seededNormal(seed);
  const data = new Float64Array(FRAMES * POSITIONS);
  const sideOf = new Uint8Array(FRAMES * POSITIONS);
  for (let i = 0, at = 0; i < FRAMES; i++)
    for (let p = 0; p < POSITIONS; p++, at++) {
      const age = i - passes(p);
      sideOf[at] = age > 0 ? BEHIND : AHEAD;
      // cracks that open at every fifth position
      const later = p % 5 === 0 && age > 12 ? 60 : 0;
      data[at] = light(i) * ((age > 0 ? behind(age) : 100) + later) + NOISE * normal();
    }
  return isSteadyBehind(data, sideOf, SHAPE, NOISE, said);
}

describe("what lies behind a front", () => {
  it("is steady in a steady light, though the light is said to drift or flicker, and though cracks open there", () => {
    for (const said of [drift, flicker])
      for (const seed of [1, 2, 3]) expect(isSteady(said, {}, seed)).toBe(true);
  });

  it("is not where it takes part in the light, also where its level decays by itself", () => {
    const decays = (age: number) => 80 + 60 * Math.exp(-age / 10);
    for (const seed of [1, 2, 3]) {
      expect(isSteady(drift, { light: (i) => drift[i] }, seed)).toBe(false);
      expect(isSteady(flicker, { light: (i) => flicker[i] }, seed)).toBe(false);
      expect(isSteady(flicker, { light: (i) => flicker[i], behind: decays }, seed)).toBe(false);
    }
  });

  it("is not called steady where it is too dark to tell", () => {
    expect(isSteady(drift, { behind: () => 2 })).toBe(false);
  });
});
