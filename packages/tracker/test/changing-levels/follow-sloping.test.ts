import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { followSloping } from "../../src/changing-levels/follow-sloping.js";
import { trackFront } from "../../src/index.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import { misfit } from "../../src/one-front/misfit.js";
import { streakOf } from "../support/frame-list.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge } from "../support/whole-picture.js";

const COLUMNS = 60;
const SPEED = 1.5;
const options = { sign: 0, exposureFraction: undefined, isPathGiven: false, pause: async () => {} } as const;

function take(change: (column: number, time: number) => number, seed: number) {
  const normal = seededNormal(seed);
  return sourceOf(
    { numbers: frames(64), rows: 4, columns: COLUMNS },
    (_, c, t) => 80 + 40 * change(c, t) + 4 * normal(),
  );
}

/** A front, and behind it a cloud, as bright as the front and 8 px wide, that falls back. */
function withCloud(c: number, t: number): number {
  const front = SPEED * (t - 12);
  const cloud = 0.75 * front - 18;
  return edge(front - c) + Math.exp(-0.5 * ((c - cloud) / 8) ** 2);
}

describe("followSloping", () => {
  it("reads the front where the level behind it decays, and leaves noise alone", async () => {
    const streak = await streakOf(
      take((c, t) => {
        const since = t - 12 - c / SPEED;
        return edge(SPEED * since) * (since > 0 ? 0.3 + 0.7 * Math.exp(-since / 8) : 1);
      }, 5),
    );
    const found = await followDivided(streak, null, options);
    const sloping = await followSloping(streak, found, options);
    if (!sloping?.front) throw new Error("expected a front");
    expect(misfit(found)).toBeGreaterThan(1.5);
    expect(misfit(sloping)).toBeLessThan(1.2);
    const { slope, slopeStandardUncertainty } = sloping.front.line;
    expect(Math.abs(slope - SPEED)).toBeLessThan(3 * slopeStandardUncertainty);
    expect(slopeStandardUncertainty).toBeLessThan(0.01 * SPEED);
  });

  it("is null where no front was found", async () => {
    const streak = await streakOf(take(() => 0, 6));
    expect(await followSloping(streak, await followDivided(streak, null, options), options)).toBeNull();
  });
});

describe("trackFront", () => {
  it("measures a front with a passing cloud behind it, not the cloud", async () => {
    for (const seed of [1, 2]) {
      const outcome = await trackFront(take(withCloud, seed), {
        path: [
          [0, 1.5],
          [COLUMNS - 1, 1.5],
        ],
        width: 4,
      });
      if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
      const { slopePixelsPerFrame, standardUncertaintyPixelsPerFrame, contributions } = outcome.track.line;
      const { modelChoice } = contributions;
      if ("notEvaluated" in modelChoice) throw new Error(modelChoice.notEvaluated);
      const uncertainty = Math.hypot(
        standardUncertaintyPixelsPerFrame,
        modelChoice.standardUncertaintyPixelsPerFrame,
      );
      // the cloud runs 25 % slower
      expect(uncertainty).toBeLessThan(0.01 * SPEED);
      expect(Math.abs(slopePixelsPerFrame - SPEED)).toBeLessThan(3 * uncertainty);
    }
  });
});
