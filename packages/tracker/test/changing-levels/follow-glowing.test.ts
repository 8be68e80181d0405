import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { findAndFollow } from "../../src/find/find-and-follow.js";
import { streakOf } from "../support/frame-list.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge } from "../support/whole-picture.js";

const COLUMNS = 70;
const FRAMES = 76;
const SPEED = 1.1;
const BEGINS = 4;
const options = { sign: 0, exposureFraction: undefined, isPathGiven: false, pause: async () => {} } as const;

/** A glow ahead of a front that grows from a fifth to the whole of its size while it runs, and cracks across the path that open when the
 *  front has passed them, as deep as its step or deeper, bright and dark. */
function glowBeforeCracks(size: number) {
  const cracks = [12, 25, 36, 47].map((column, k) => ({
    column,
    opens: BEGINS + column / SPEED + 12 + 3 * k,
    depth: (k % 2 === 0 ? 1 : -1) * (1 + 0.3 * k),
  }));
  return (c: number, t: number) => {
    const behind = SPEED * (t - BEGINS) - c;
    const grown = Math.min(1, Math.max(0, ((t - BEGINS) * SPEED) / COLUMNS));
    const glow = size * (0.2 + 0.8 * grown) * Math.exp(Math.min(0, behind) / 10);
    const later = cracks
      .filter(({ opens }) => t >= opens)
      .reduce((sum, { column, depth }) => sum + depth * Math.exp(-0.5 * (c - column) ** 2), 0);
    return edge(behind) + (1 - edge(behind)) * glow + later;
  };
}

async function followed(change: (c: number, t: number) => number, seed: number) {
  const normal = seededNormal(seed);
  const streak = await streakOf(
    sourceOf(
      { numbers: frames(FRAMES), rows: 6, columns: COLUMNS },
      (_, c, t) => 80 + 40 * change(c, t) + 4 * normal(),
    ),
  );
  const { fronts } = await findAndFollow(streak, options);
  if (fronts.length !== 1 || !fronts[0].front) throw new Error(`expected a front, got ${fronts.length}`);
  const { slope, slopeStandardUncertainty } = fronts[0].front.line;
  const standardUncertainty = Math.hypot(slopeStandardUncertainty, fronts[0].slopeOpenPixels ?? 0);
  return { slope, standardUncertainty, gain: fronts[0].gain };
}

describe("a glow that grows ahead of a front behind which other things change", () => {
  it("does not draw the speed after it, and is not taken for the light of the whole picture", async () => {
    const SEEDS = [1, 2, 3];
    let mean = 0;
    for (const seed of SEEDS) {
      const { slope, standardUncertainty, gain } = await followed(glowBeforeCracks(0.4), seed);
      expect(gain).toBeNull();
      expect(standardUncertainty).toBeLessThan(0.01 * SPEED);
      // one in 10⁴ is this far out
      expect(Math.abs(slope - SPEED)).toBeLessThan(4 * standardUncertainty);
      mean += (slope - SPEED) / standardUncertainty / SEEDS.length;
    }
    // standard deviation of this mean: the root of a third
    expect(Math.abs(mean)).toBeLessThan(2);
  });

  it("costs no certainty where there is none", async () => {
    const { slope, standardUncertainty } = await followed(glowBeforeCracks(0), 7);
    expect(Math.abs(slope - SPEED)).toBeLessThan(4 * standardUncertainty);
    expect(standardUncertainty).toBeLessThan(0.002 * SPEED);
  });
});
