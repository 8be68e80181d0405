import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { pictureShift } from "../../src/picture-motion/picture-shift.js";

const frames = 30;
const positions = 80;

/** Invented: texture and noise of 2 DN, shifted; a front that nobody sees covers 2 px of it in every frame. */
function streakOf(seed: number, shiftIn: (frame: number) => number, amplitude = 1) {
  const normal = seededNormal(seed);
  const texture = (x: number) =>
    100 + amplitude * (6 * Math.sin(x / 1.3) + 4 * Math.sin(x / 2.3 + 1) + 5 * Math.sin(x / 4.7 + 2));
  const data = new Float64Array(frames * positions);
  for (let i = 0, at = 0; i < frames; i++)
    for (let p = 0; p < positions; p++, at++) data[at] = texture(p - shiftIn(i)) + 2 * normal();
  return data;
}
const ahead = Array.from({ length: frames }, (_, i) => [2 * i, positions] as const);
const behind = Array.from({ length: frames }, () => [0, 0] as const);
const shape = [frames, positions] as const;

const kick = (i: number) => (i < 8 ? 0 : 1.7 * Math.exp((8 - i) / 9) * Math.sin((i - 8) / 1.4));

describe("pictureShift", () => {
  it("follows a kick: each frame misses by as much as its standard uncertainty says, 10 seeds", () => {
    let squares = 0;
    let count = 0;
    for (let seed = 1; seed <= 10; seed++) {
      const seen = pictureShift(streakOf(seed, kick), shape, { ahead, behind }, 0);
      if (!seen) throw new Error("expected texture");
      expect(seen.moves).toBe(true);
      const off = Array.from(seen.shiftPixels, (shift, i) => shift - kick(i));
      const told = off.filter((value) => !Number.isNaN(value));
      const mean = told.reduce((sum, value) => sum + value, 0) / told.length;
      off.forEach((value, i) => {
        if (Number.isNaN(value)) return;
        squares += ((value - mean) / seen.standardUncertaintyPixels[i]) ** 2;
        count++;
      });
    }
    // The texture's own noise, common to all frames, comes on top of the readings': about one part in ten.
    expect(squares / count).toBeGreaterThan(0.8);
    expect(squares / count).toBeLessThan(1.5);
  });

  it("is at rest where only noise moves, 10 seeds", () => {
    for (let seed = 1; seed <= 10; seed++)
      expect(
        pictureShift(
          streakOf(seed, () => 0),
          shape,
          { ahead, behind },
          0,
        )?.moves,
      ).toBe(false);
  });

  it("says how far a straight line through the shifts may creep, 30 seeds", () => {
    let squares = 0;
    const weights = Float64Array.from({ length: frames }, (_, i) => (i < 25 ? (i - 12) / 1300 : 0));
    for (let seed = 1; seed <= 30; seed++) {
      const seen = pictureShift(
        streakOf(seed, () => 0),
        shape,
        { ahead, behind },
        0,
      );
      if (!seen) throw new Error("expected texture");
      const creep = weights.reduce((sum, w, i) => (w === 0 ? sum : sum + w * seen.shiftPixels[i]), 0);
      squares += creep ** 2 / seen.varianceOf(weights).all;
    }
    // Chi-squared over 30: its mean has a standard deviation of 0.26.
    expect(squares / 30).toBeGreaterThan(0.4);
    expect(squares / 30).toBeLessThan(1.8);
  });

  it("does not take noise for texture", () => {
    for (let seed = 1; seed <= 10; seed++)
      expect(pictureShift(streakOf(seed, kick, 0), shape, { ahead, behind }, 0)).toBeNull();
  });

  it("does not take the foot of a front that leaves black behind it for texture there, 10 seeds", () => {
    const middle = (frame: number) => 3.3 * frame - 6;
    const black = Array.from(
      behind,
      (_, i) => [0, Math.max(0, Math.min(positions, Math.floor(middle(i))))] as const,
    );
    const light = Array.from(
      ahead,
      (_, i) => [Math.max(0, Math.min(positions, Math.ceil(middle(i)) + 6)), positions] as const,
    );
    for (let seed = 1; seed <= 10; seed++) {
      const data = streakOf(seed, kick).map((value, at) => {
        const distance = (at % positions) - middle(Math.floor(at / positions));
        return distance > 6 ? value : Math.max(0, Math.round(value * (1 - Math.exp(-((distance + 4) / 4)))));
      });
      const seen = pictureShift(data, shape, { ahead: light, behind: black }, 0);
      if (!seen) throw new Error("expected texture");
      expect(seen.moves).toBe(true);
      seen.shiftPixels.forEach((shift) => {
        if (!Number.isNaN(shift)) expect(Math.abs(shift)).toBeLessThan(3);
      });
      expect(Number.isFinite(seen.varianceOf(new Float64Array(frames).fill(1 / frames)).all)).toBe(true);
    }
  });
});
