import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { followRelaxing } from "../../src/changing-levels/follow-relaxing.js";
import { findAndFollow } from "../../src/find/find-and-follow.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import { misfit } from "../../src/one-front/misfit.js";
import { streakOf } from "../support/frame-list.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge } from "../support/whole-picture.js";

const COLUMNS = 70;
const FRAMES = 64;
const SPEED = 1.5;
const BEGINS = 10;
/** Normal distribution to 2e-4: Page, J. R. Stat. Soc. C 26 (1977) 75; from memory. */
const blurred = (behind: number) => 1 / (1 + Math.exp(-1.5976 * behind - 0.07056 * behind ** 3));
const options = { sign: 0, exposureFraction: undefined, isPathGiven: false, pause: async () => {} } as const;

async function followed(
  change: (behind: number, time: number, column: number) => number,
  seed: number,
  noise = 4,
) {
  const normal = seededNormal(seed);
  const streak = await streakOf(
    sourceOf(
      { numbers: frames(FRAMES), rows: 6, columns: COLUMNS },
      (_, c, t) => 80 + 40 * change(SPEED * (t - BEGINS) - c, t, c) + noise * normal(),
    ),
  );
  const found = await followDivided(streak, null, options);
  return { found, relaxing: await followRelaxing(streak, found, options) };
}

/** A glow ahead of the front that grows from a fifth to the whole of its size while it runs. */
function withGlow(behind: number, t: number): number {
  const grown = Math.min(1, Math.max(0, ((t - BEGINS) * SPEED) / COLUMNS));
  const glow = 0.4 * (0.2 + 0.8 * grown) * Math.exp(Math.min(0, behind) / 12);
  return edge(behind) + (1 - edge(behind)) * glow;
}

describe("followRelaxing", () => {
  it("measures a front with a glow ahead of it that grows as one without, where constant levels are wrong", async () => {
    const off = { plain: 0, relaxing: 0 };
    const SEEDS = [1, 2, 3, 4, 5, 6];
    for (const seed of SEEDS) {
      const { found, relaxing } = await followed(withGlow, seed);
      if (!found.front || !relaxing?.front) throw new Error("expected a front");
      expect(misfit(relaxing)).toBeLessThan(1.15);
      const { slope, slopeStandardUncertainty } = relaxing.front.line;
      const open = Math.hypot(slopeStandardUncertainty, relaxing.slopeOpenPixels ?? Number.NaN);
      // the size, growth and length of the glow are told by the same frames as the front
      expect(relaxing.slopeOpenPixels).toBeGreaterThan(0.2 * slopeStandardUncertainty);
      // one in 10⁴ is this far out
      expect(Math.abs(slope - SPEED)).toBeLessThan(4 * open);
      off.relaxing += (slope - SPEED) / open / SEEDS.length;
      const { line } = found.front;
      off.plain += (line.slope - SPEED) / line.slopeStandardUncertainty / SEEDS.length;
    }
    // standard deviation of these means: the root of a sixth
    expect(Math.abs(off.relaxing)).toBeLessThan(1.5);
    expect(Math.abs(off.plain)).toBeGreaterThan(2);
  });

  it("measures a front whose light grows behind it, too, and falls off ahead with the square of the distance", async () => {
    const SEEDS = [1, 2, 3, 4];
    let mean = 0;
    for (const seed of SEEDS) {
      const { found, relaxing } = await followed(
        (behind, t) => {
          const light = 0.5 * Math.min(1, Math.max(0, t / FRAMES));
          const ahead = 1 / (1 + (Math.min(0, behind) / 8) ** 2);
          return blurred(behind) * (1 + light) + (1 - blurred(behind)) * light * ahead;
        },
        seed,
        1,
      );
      if (!found.front || !relaxing?.front) throw new Error("expected a front");
      const { slope, slopeStandardUncertainty } = relaxing.front.line;
      const open = Math.hypot(slopeStandardUncertainty, relaxing.slopeOpenPixels ?? Number.NaN);
      // one in 10⁴ is this far out
      expect(Math.abs(slope - SPEED)).toBeLessThan(4 * open);
      expect(open).toBeLessThan(0.003 * SPEED);
      mean += (slope - SPEED) / open / SEEDS.length;
    }
    expect(Math.abs(mean)).toBeLessThan(2);
  });

  it("measures a front with a level behind it that settles", async () => {
    const { found, relaxing } = await followed(
      (behind) => edge(behind) * (behind > 0 ? 0.4 + 0.6 * Math.exp(-behind / 15) : 1),
      7,
    );
    if (!found.front || !relaxing?.front) throw new Error("expected a front");
    expect(misfit(found)).toBeGreaterThan(1.5);
    expect(misfit(relaxing)).toBeLessThan(1.15);
    const { slope, slopeStandardUncertainty } = relaxing.front.line;
    expect(Math.abs(slope - SPEED)).toBeLessThan(4 * slopeStandardUncertainty);
  });

  it("takes no glow ahead for what another form of the settling level leaves about the edge", async () => {
    const FAST = 3.1;
    for (const seed of [1, 2, 3, 4]) {
      const normal = seededNormal(seed);
      const streak = await streakOf(
        sourceOf({ numbers: frames(56), rows: 4, columns: 160 }, (_, c, t) => {
          const behind = FAST * (t - 4) - c;
          const settled = 0.3 + 0.7 * Math.exp(-Math.max(0, behind) / FAST / 25);
          return 60 + (80 * settled) / (1 + Math.exp(-2 * behind)) + 0.4 * normal();
        }),
      );
      const relaxing = await followRelaxing(streak, await followDivided(streak, null, options), options);
      if (!relaxing?.front) throw new Error("expected a front");
      const { slope, slopeStandardUncertainty } = relaxing.front.line;
      const open = Math.hypot(slopeStandardUncertainty, relaxing.slopeOpenPixels ?? Number.NaN);
      // with such a glow four times as much
      expect(open).toBeLessThan(1e-4 * FAST);
      // one in 10⁴ is this far out
      expect(Math.abs(slope - FAST)).toBeLessThan(4 * open);
    }
  });

  it("is null where levels are constant, and where something else changes too", async () => {
    expect((await followed(edge, 8)).relaxing).toBeNull();
    const flash = (behind: number, t: number, c: number) =>
      edge(behind) + (c > 20 && c < 45 && t > 40 && t < 55 ? 0.5 : 0);
    expect((await followed(flash, 9)).relaxing).toBeNull();
  });

  it("is not asked where all that is left lies at the edge, cut off at black and white: short glows fit that, and tell nothing of the front", async () => {
    const [columns, speed] = [245, 7.864];
    const normal = seededNormal(9);
    const texture = Float64Array.from({ length: 15 * columns }, () => 3 * normal());
    const streak = await streakOf(
      sourceOf({ numbers: frames(40), rows: 15, columns, bitDepth: 8 }, (r, c, t) => {
        const light = -20 + texture[r * columns + c] + 320 * edge((speed * (t - 2) - c) / 2);
        return Math.min(255, Math.max(0, Math.round(light + 4 * normal())));
      }),
    );
    const found = await followDivided(streak, null, options);
    expect(misfit(found)).toBeGreaterThan(10);
    expect(await followRelaxing(streak, found, options)).toBeNull();
    const { fronts } = await findAndFollow(streak, options);
    expect(fronts).toHaveLength(1);
    const { slope, slopeStandardUncertainty } = fronts[0].front!.line;
    expect(Math.abs(slope - speed)).toBeLessThan(3 * slopeStandardUncertainty);
    expect(slopeStandardUncertainty).toBeLessThan(0.001 * speed);
  });
});
