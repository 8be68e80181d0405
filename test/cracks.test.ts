import type { Point } from "@frontpace/cracks";
import { measureTake, type TakeFrames } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import {
  type CrackScene,
  courseOf,
  lengthOf,
  renderCracks,
} from "../scripts/accuracy/cracks/render-cracks.js";

/** Invented: 1 mm a pixel, 100,000 frames a second, exactly; so that 1 px a frame is 100 m/s. */
const exact = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 1e-3, metresPerPixelUncertainty: 0 };
const picture = { rows: 100, columns: 160, count: 45, depth: -40, noise: 2 };

function measure(cracks: CrackScene["cracks"], options: { front?: number } = {}) {
  const frames: TakeFrames = { ...renderCracks({ ...picture, cracks }), name: "tile", bitDepth: 8 };
  return measureTake({ frames }, { ...exact, ...options });
}

const stem = courseOf((s): Point => [12 + 60 * s, 50]);
const arm = (slope: number) => courseOf((s): Point => [72 + 75 * s, 50 + 75 * slope * s]);
const stemSpeed = 4;
const armSpeed = 5;
const parts = 5 + lengthOf(stem) / stemSpeed;
const branched = [
  { course: stem, length: (time: number) => stemSpeed * (time - 5) },
  { course: arm(0.45), length: (time: number) => armSpeed * (time - parts) },
  { course: arm(-0.5), length: (time: number) => armSpeed * (time - parts) },
];

describe("a take of thin cracks without a path", () => {
  it("measures a slanting crack along its own course, not along the rows", async () => {
    const course = courseOf((s): Point => [15 + 125 * s, 20 + 60 * s]);
    const { result, tips } = await measure([{ course, length: (time) => 3.6 * (time - 4) }]);
    expect(result.status).toBe("measured");
    const { value, expandedUncertainty } = result.speed!;
    expect(Math.abs(value - 360)).toBeLessThan(2 * expandedUncertainty);
    expect(Math.abs(value / 360 - 1)).toBeLessThan(0.005);
    expect(result.branches).toHaveLength(1);
    for (const { x, y, used } of tips)
      if (used) expect(Math.abs(y - (20 + (60 * (x - 15)) / 125))).toBeLessThan(0.5);
  });

  it("gives every branch its speed and its parent, and the take none", async () => {
    const { result } = await measure(branched);
    expect(result.status).toBe("not-found");
    expect(result.notFound?.reason).toBe("several-fronts");
    const branches = result.branches!;
    expect(branches.map(({ parent }) => parent)).toEqual([null, 1, 1]);
    for (const [k, speed] of [400, 500, 500].entries())
      expect(Math.abs(branches[k].speed! / speed - 1)).toBeLessThan(0.01);
  });

  it("measures the branch that was asked for", async () => {
    const { result } = await measure(branched, { front: 1 });
    expect(result.status).toBe("measured");
    expect(Math.abs(result.speed!.value / 400 - 1)).toBeLessThan(0.01);
    // Tips run to the right, in whichever order the pixels of a branch were read.
    for (const front of [1, 2, 3]) {
      const chosen = await measure(branched, { front });
      expect(chosen.result.front!.direction[0]).toBeGreaterThan(0.8);
    }
    const none = await measure(branched, { front: 7 });
    expect(none.result.notFound?.reason).toBe("front-not-there");
  });
});
