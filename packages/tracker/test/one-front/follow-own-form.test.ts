import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { followDivided } from "../../src/one-front/follow-divided.js";
import { followOwnForm } from "../../src/one-front/follow-own-form.js";
import { streakOf } from "../support/frame-list.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";

const COLUMNS = 120;
const SPEED = 2.1;
const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];
const options = { sign: 0, exposureFraction: 0.05, isPathGiven: true, pause: async () => {} } as const;

/** Integral of the logistic distribution. */
const softened = (x: number) => Math.log1p(Math.exp(-Math.abs(x))) + Math.max(0, x);
/** A logistic edge averaged over a pixel. */
const logistic = (behind: number) => {
  const scale = 1.1;
  return scale * (softened((behind + 0.5) / scale) - softened((behind - 0.5) / scale));
};
/** A linear ramp over 6 px, averaged over a pixel. */
const ramp = (behind: number) => {
  const upTo = (x: number) => (x <= -3 ? 0 : x >= 3 ? x : (x + 3) ** 2 / 12);
  return upTo(behind + 0.5) - upTo(behind - 0.5);
};

/** Invented: a front that starts at 20 px, in 36 frames. */
async function errors(edge: (behind: number) => number, rows: number, doFollow = true) {
  const found = [];
  for (const seed of SEEDS) {
    const normal = seededNormal(seed);
    const streak = await streakOf(
      sourceOf(
        { numbers: frames(36), rows, columns: COLUMNS },
        (_, c, time) => 90 + 70 * edge(20 + SPEED * time - c) + 1.2 * normal(),
      ),
    );
    const divided = await followDivided(streak, null, options);
    const own = doFollow ? await followOwnForm(streak, divided, options) : divided;
    if (!own.front) throw new Error("expected a front");
    const { slope, slopeStandardUncertainty } = own.front.line;
    const u = Math.hypot(slopeStandardUncertainty, own.slopeOpenPixels ?? 0);
    found.push({ u, z: (slope - SPEED) / u, form: own.front.motion.form ?? "gaussian" });
  }
  const meanZ = found.reduce((sum, { z }) => sum + z / found.length, 0);
  const meanUncertainty = found.reduce((sum, { u }) => sum + u / found.length, 0);
  return { meanZ, meanUncertainty, forms: new Set(found.map(({ form }) => form)) };
}

describe("followOwnForm", () => {
  it("a front with logistic tails that is inside the picture from the first frame to the last is as fast as it ran", async () => {
    // as a Gaussian edge it is too fast by more than its uncertainty
    expect((await errors(logistic, 40, false)).meanZ).toBeGreaterThan(1.5);
    const own = await errors(logistic, 40);
    expect(Math.abs(own.meanZ)).toBeLessThan(3 / Math.sqrt(SEEDS.length));
    expect(own.forms).toEqual(new Set(["logistic"]));
  });
  it("so is a linear ramp, with a narrower interval", async () => {
    const gaussian = await errors(ramp, 40, false);
    const own = await errors(ramp, 40);
    expect(own.meanUncertainty).toBeLessThan(0.5 * gaussian.meanUncertainty);
    expect(Math.abs(own.meanZ)).toBeLessThan(3 / Math.sqrt(SEEDS.length));
    expect(own.forms).toEqual(new Set(["ramp"]));
  });
  it("a front that enters and leaves is left as it is, whatever its tails", async () => {
    const streak = await streakOf(
      sourceOf(
        { numbers: frames(90), rows: 4, columns: COLUMNS },
        (_, c, time) => 90 + 70 * logistic(-30 + SPEED * time - c),
      ),
    );
    const divided = await followDivided(streak, null, options);
    expect(divided.front).not.toBeNull();
    expect(await followOwnForm(streak, divided, options)).toBe(divided);
  });
});
