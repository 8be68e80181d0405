import { describe, expect, it } from "vitest";
import { tryTake } from "../scripts/accuracy/try-take.js";

/** A short run of the accuracy trials; the full tables come from `pnpm accuracy`. Bounds are those of the binomial
 *  distribution at one in a thousand or less about the shares that the full run shows. */
describe("on invented takes drawn from seeds", () => {
  const seeds = (first: number, count: number) => Array.from({ length: count }, (_, k) => first + k);

  it("of 50 takes more than 41 are measured, and the 95 % interval holds the truth in more than 85 % of these", async () => {
    const trials = [];
    for (const seed of seeds(5_000, 50)) trials.push(await tryTake(seed, {}));
    const measured = trials.filter(({ status }) => status === "measured");
    const holding = measured.filter(({ error, halfWidth }) => Math.abs(error) <= halfWidth);
    expect(measured.length).toBeGreaterThan(41);
    expect(holding.length / measured.length).toBeGreaterThan(0.85);
  }, 180_000);

  it("with white noise only every position stands within 1.4 times its Cramér-Rao bound, root mean square", async () => {
    let squares = 0;
    let count = 0;
    for (const seed of seeds(6_000, 25)) {
      const trial = await tryTake(seed, { whiteOnly: true });
      squares += trial.positionSquares;
      count += trial.positionCount;
    }
    expect(count).toBeGreaterThan(300);
    expect(Math.sqrt(squares / count)).toBeLessThan(1.4);
  }, 120_000);

  it("of 25 takes in which nothing moves, under flicker, none reports a front", async () => {
    for (const seed of seeds(7_000, 25)) {
      const { status } = await tryTake(seed, { still: true, flicker: 0.15 });
      expect(status, `seed ${seed}`).toBe("not-found");
    }
  }, 120_000);
});
