import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { render } from "./support/render.js";
import { expectCovered, expectRelative, frames } from "./support/track.js";

const SPEED = 2.1;

/** Invented: in frame 17 the front stands `off` px from where it should. */
const take = (off: number, seed: number) =>
  render({
    numbers: frames(40),
    rows: 16,
    columns: 110,
    frontAt: (time) => 10 + SPEED * time + (time === 17 ? off : 0),
    noise: 2,
    seed,
  });

describe("a frame that does not fit", () => {
  it.each([1, 2, 3])("repeated from the one before is rejected by name, seed %i", async (seed) => {
    const outcome = await trackFront(take(-SPEED, seed));
    if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
    const { track, warnings } = outcome;
    expect(track.positions.filter(({ used }) => !used).map(({ frame }) => frame)).toEqual([17]);
    expect(warnings.find(({ code }) => code === "frames-rejected")?.message).toMatch(/\b17\b/);
    expectCovered(track, SPEED);
    expectRelative(track.line.slopePixelsPerFrame, SPEED, 1e-3);
  });

  it("is not seen where every frame fits", async () => {
    const outcome = await trackFront(take(0, 1));
    expect(outcome.warnings.map(({ code }) => code)).not.toContain("frames-rejected");
  });
});
