import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { trackFront } from "../../src/index.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";
import { edge } from "../support/whole-picture.js";

const COLUMNS = 64;
const NOISE = 3;

/** A dark front that enters at the first column in frame 4, and a bright one from `begin` on in frame 5, about as strong: each
 *  meets what the other left. */
function crossing(speed: number, other: number, begin: number) {
  const normal = seededNormal(4);
  return sourceOf({ numbers: frames(44), rows: 8, columns: COLUMNS }, (_, column, time) => {
    const dark = edge(speed * (time - 4) - column);
    const bright = edge(column - begin - other * (time - 5)) - edge(column - begin);
    return 160 - 120 * dark + 100 * Math.max(0, bright) + NOISE * normal();
  });
}

describe("two fronts of which the second shows once the first is taken off", () => {
  it.each([
    [1.33, -1.02, 44],
    [1.06, -0.6, 63],
  ])("are both listed, as fast as they ran: %f and %f px a frame", async (speed, other, begin) => {
    const outcome = await trackFront(crossing(speed, other, begin));
    if (outcome.status !== "not-found") throw new Error(`expected no speed, got ${outcome.status}`);
    expect(outcome.reason).toBe("several-fronts");
    const speeds = (outcome.fronts ?? []).map(({ slopePixelsPerFrame }) => slopePixelsPerFrame);
    expect(speeds).toHaveLength(2);
    // a listed line is a first reading: where it crosses the other both bend
    expect(Math.abs(speeds[0] / speed - 1)).toBeLessThan(0.01);
    expect(Math.abs(speeds[1] / other - 1)).toBeLessThan(0.05);
  });

  it("are one where the first never comes", async () => {
    const outcome = await trackFront(crossing(-1.33, -1.02, 44));
    if (outcome.status !== "tracked") throw new Error(`expected a track, got ${outcome.status}`);
    expect(Math.abs(outcome.track.line.slopePixelsPerFrame / -1.02 - 1)).toBeLessThan(0.01);
  });
});
