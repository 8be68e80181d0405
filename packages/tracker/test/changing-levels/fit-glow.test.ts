import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { chooseGlow, mayGlow } from "../../src/changing-levels/choose-glow.js";
import { fitGlow, gainByGlow } from "../../src/changing-levels/fit-glow.js";
import { glowAt } from "../../src/changing-levels/glow-at.js";
import type { Glow } from "../../src/changing-levels/glow-sums.js";
import { glowWindow } from "../../src/changing-levels/glow-window.js";
import { sampleProfile } from "../../src/model/edge-profile.js";
import { type FrontMotion, jointFit } from "../../src/model/joint-fit.js";
import { frames } from "../support/track.js";

const FRAMES = 50;
const POSITIONS = 60;
const NOISE = 3;
const motion: FrontMotion = {
  shape: "step",
  sense: 1,
  interceptPixels: 4,
  slopePixelsPerFrame: 1.1,
  blurPixels: 1.6,
  exposureFraction: 0,
  tiltSpreadPixels: 0,
};
const numbers = frames(FRAMES);
const frontPixels = Float64Array.from(numbers, (number) => 4 + 1.1 * number);
const glow: Glow = { lengthPixels: 9, size: 0.2, growth: 0.15, form: "ended", lightsBehind: false };

/** A front of the model's own kind, its change 50 units more or less from place to place, and glow ahead of it. */
function field(size: number, growth: number, noise: number, seed = 1) {
  const normal = seededNormal(seed);
  const edge = { value: 0, byDistance: 0, byLogBlur: 0 };
  const data = new Float64Array(FRAMES * POSITIONS);
  for (let i = 0; i < FRAMES; i++)
    for (let p = 0; p < POSITIONS; p++) {
      const behind = frontPixels[i] - p;
      sampleProfile("step", behind, 1.6, 0, edge);
      // runs through the path from frame 0 to the last
      const part = Math.min(1, (2 * i) / (FRAMES - 1) - 1);
      const ahead = (size + growth * part) * glowAt(behind, 9, "ended", { blurPixels: 1.6, smearPixels: 0 });
      data[i * POSITIONS + p] = 100 + (50 + 10 * Math.sin(p)) * (edge.value + ahead) + noise * normal();
    }
  return { data, frames: FRAMES, positions: POSITIONS };
}

const run = { motion, numbers, frontPixels };

describe("fitGlow", () => {
  it("finds front and glow again from beside them where there is no noise", () => {
    const off = {
      motion: { ...motion, interceptPixels: 4.6, slopePixelsPerFrame: 1.09, blurPixels: 2 },
      numbers,
      frontPixels: Float64Array.from(numbers, (number) => 4.6 + 1.09 * number),
    };
    const start = { run: off, glow: { ...glow, lengthPixels: 5, size: 0, growth: 0 } };
    const fit = fitGlow(field(0.2, 0.15, 0), start, 1, 1e-4);
    // steps end where one gains less than 0.01 of a variance of 1e-4
    expect(Math.abs(fit.run.motion.slopePixelsPerFrame - 1.1)).toBeLessThan(1e-4);
    expect(Math.abs(fit.run.motion.blurPixels - 1.6)).toBeLessThan(1e-3);
    expect(Math.abs(fit.glow.lengthPixels / 9 - 1)).toBeLessThan(0.01);
    expect(Math.abs(fit.glow.size - 0.2)).toBeLessThan(2e-3);
    expect(Math.abs(fit.glow.growth - 0.15)).toBeLessThan(2e-3);
  });

  it("leaves the slope open by as much as it differs from that of a fit with the glow known", () => {
    const SEEDS = 60;
    let squares = 0;
    let open = 0;
    let mean = 0;
    for (let seed = 40; seed < 40 + SEEDS; seed++) {
      const noisy = field(0.2, 0.15, NOISE, seed);
      const fit = fitGlow(noisy, { run, glow }, 1, NOISE ** 2);
      const known = { ...noisy, window: glowWindow(run, POSITIONS, glow, null) };
      const apart =
        fit.run.motion.slopePixelsPerFrame - jointFit(known, numbers, motion).motion.slopePixelsPerFrame;
      squares += apart ** 2 / SEEDS;
      open += fit.slopeVariance / SEEDS;
      mean += (fit.run.motion.slopePixelsPerFrame - 1.1) / SEEDS;
      expect(Math.abs(fit.misfit - 1)).toBeLessThan(0.15);
    }
    // What a fit loses by more unknowns is the variance of the difference; the estimate of a variance from 60 has a relative
    // standard deviation of 0.18.
    expect(squares / open).toBeGreaterThan(0.4);
    expect(squares / open).toBeLessThan(1.9);
    expect(Math.abs(mean)).toBeLessThan(5 * Math.sqrt(squares));
  });
});

describe("glow ahead", () => {
  it("gains two on the mean where there is none, and much where it is a twentieth of the change", () => {
    const gains = Array.from({ length: 30 }, (_, k) => {
      const noisy = field(0, 0, NOISE, 100 + k);
      const plain = jointFit(noisy, numbers, motion);
      const own = { motion: plain.motion, numbers, frontPixels: plain.state.frontPixels };
      expect(mayGlow(noisy, own, 1, NOISE ** 2)).toBe(false);
      return gainByGlow(noisy, own, 9, 1, NOISE ** 2);
    });
    const mean = gains.reduce((sum, gain) => sum + gain, 0) / gains.length;
    // chi squared of two: a mean of thirty has a standard deviation of 0.37
    expect(Math.abs(mean - 2)).toBeLessThan(5 * 0.37);
    const faint = field(0.05, 0.03, NOISE);
    const plain = jointFit(faint, numbers, motion);
    expect(
      mayGlow(faint, { motion: plain.motion, numbers, frontPixels: plain.state.frontPixels }, 1, NOISE ** 2),
    ).toBe(true);
  });

  it("is chosen in the way in which it was drawn, with less than the noise of the slope left open by the other way", () => {
    const chosen = chooseGlow(field(0.35, 0.2, 0.5), run, 1, 0.25)!;
    expect(chosen.glow.form).toBe("ended");
    expect(Math.abs(chosen.glow.lengthPixels / 9 - 1)).toBeLessThan(0.05);
    expect(chosen.slopeOpenPixels).toBeGreaterThan(Math.sqrt(chosen.slopeVariance) * 0.999);
    expect(chosen.slopeOpenPixels).toBeLessThan(2e-3);
  });
});
