import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../test/support/seeded-normal.js";
import { trackFront } from "../src/index.js";
import { sourceOf } from "./support/render.js";
import { expectCovered, expectRelative, frames, track } from "./support/track.js";

const SPEED = 2.1;

/** Invented: a glazed tile with a mottle of a few per cent, and a front that darkens it; the picture lies `shiftIn` px
 *  off in each frame. Brightness at a point; the blur of 1.2 px is that of front and mottle alike. */
function tile(
  seed: number,
  shiftIn: (frame: number) => number,
  {
    mottle = 1,
    front = true,
    acrossIn = () => 0,
  }: { mottle?: number; front?: boolean; acrossIn?: (frame: number) => number } = {},
) {
  const normal = seededNormal(seed);
  const phases = Array.from({ length: 40 }, () => ({
    along: 0.9 * normal(),
    across: 0.3 * normal(),
    at: 6 * normal(),
  }));
  const returned = (x: number, y: number) =>
    1 +
    mottle *
      phases.reduce((sum, { along, across, at }) => sum + 0.015 * Math.sin(along * x + across * y + at), 0);
  return sourceOf({ numbers: frames(44), rows: 9, columns: 96 }, (row, column, number) => {
    const x = column - shiftIn(number);
    const behind = front ? -8 + SPEED * number - x : -50;
    const level = 120 - 50 / (1 + Math.exp(-1.7 * (behind / 1.2)));
    return level * returned(x, row - acrossIn(number)) + 1.5 * normal();
  });
}
const kick = (i: number) => (i < 6 ? 0 : 1.8 * Math.exp((6 - i) / 18) * Math.sin((i - 6) / 2.1));

describe("a picture that moves", () => {
  it("by a kick: the front's speed on the pane, and the kick is said", async () => {
    const found = await track(tile(1, kick));
    expect(found.codes).toContain("picture-moved");
    expectCovered(found, SPEED);
    expectRelative(found.line.slopePixelsPerFrame, SPEED, 3e-3);
    const { motion } = found.line.contributions;
    expect(motion).toMatchObject({ standardUncertaintyPixelsPerFrame: expect.any(Number) });
  });

  it("across the path alone is read where it lies, and said", async () => {
    const acrossIn = (i: number) => -kick(i);
    const outcome = await trackFront(tile(1, () => 0, { acrossIn }));
    if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
    const warning = outcome.warnings.find(({ code }) => code === "picture-moved");
    expect(warning?.message).toMatch(/By [23]\.\d px across the path/i);
    expectCovered(outcome.track, SPEED);
    expectRelative(outcome.track.line.slopePixelsPerFrame, SPEED, 2e-3);
  });

  it.each([1, 2])("with nothing that runs over it shows no front, seed %i", async (seed) => {
    const outcome = await trackFront(tile(seed, kick, { front: false }));
    expect(outcome.status).toBe("not-found");
    const warning = outcome.warnings.find(({ code }) => code === "picture-moved");
    expect(warning?.message).toMatch(/By [23]\.\d px along the path/);
  });

  it("at rest is followed as it was read", async () => {
    const outcome = await trackFront(tile(1, () => 0));
    if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
    expect(outcome.warnings.map(({ code }) => code)).not.toContain("picture-moved");
    expect(outcome.streak.shape).toEqual([44, 96]);
    expect(outcome.track.line.contributions.motion).not.toMatchObject({
      notEvaluated: expect.stringContaining("no texture"),
    });
  });

  it("without texture cannot be told to move, and that is said", async () => {
    const { line, codes } = await track(tile(1, () => 0, { mottle: 0 }));
    expect(codes).not.toContain("picture-moved");
    expect(line.contributions.motion).toMatchObject({ notEvaluated: expect.stringContaining("no texture") });
  });
});
