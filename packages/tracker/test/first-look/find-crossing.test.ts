import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { findCrossing } from "../../src/first-look/find-crossing.js";

const POSITIONS = 120;
const NOISE = 0.4;
const STEP = 30;

/** A streak of an invented tile: texture, or light that falls off along the path, each frame in a light of its own, and changed up to
 *  where the front stands. */
function streak(
  gains: readonly number[],
  frontPixels: readonly number[],
  levelAt: (position: number) => number,
) {
  const noise = seededNormal(11);
  const data = new Float64Array(gains.length * POSITIONS);
  gains.forEach((gain, frame) => {
    for (let p = 0; p < POSITIONS; p++) {
      const changed = p < frontPixels[frame] ? STEP : 0;
      data[frame * POSITIONS + p] = gain * (levelAt(p) + changed) + NOISE * noise();
    }
  });
  return { data, frames: gains.length, positions: POSITIONS };
}

const textured = (p: number) => 90 + 15 * Math.sin(p / 4) + 6 * Math.sin(p / 1.7);
const fading = (p: number) => 110 - 0.3 * p;

describe("findCrossing", () => {
  it.each([
    ["textured", textured],
    ["fading", fading],
  ])("takes no part of a %s path that only the light changed for crossed", (_, levelAt) => {
    const way = [0.14 * POSITIONS, 0.34 * POSITIONS, 0.54 * POSITIONS];
    expect(findCrossing(streak([1, 1.06, 1.1], way, levelAt), NOISE)).toBeNull();
    const back = way.map((position) => POSITIONS - position);
    expect(findCrossing(streak([1, 0.95, 0.9], back, levelAt), NOISE)).toBeNull();
  });

  it.each([
    ["textured", textured],
    ["fading", fading],
    ["even", () => 90],
  ])("sees a %s path crossed between two frames, in steady light and in light that changed", (_, levelAt) => {
    for (const gains of [
      [1, 1, 1, 1],
      [1, 1, 1.1, 1.1],
    ]) {
      const crossing = findCrossing(streak(gains, [0, 0, POSITIONS, POSITIONS], levelAt), NOISE);
      expect(crossing).toMatchObject({ lastBefore: 1, firstAfter: 2, polarity: "bright" });
    }
  });

  it("sees a path crossed whose far half changes less", () => {
    const { data, frames, positions } = streak([1, 1, 1, 1], [0, 0, POSITIONS, POSITIONS], textured);
    for (const frame of [2, 3])
      for (let p = POSITIONS / 2; p < POSITIONS; p++) data[frame * POSITIONS + p] -= STEP / 2;
    expect(findCrossing({ data, frames, positions }, NOISE)).toMatchObject({ lastBefore: 1, firstAfter: 2 });
  });
});
