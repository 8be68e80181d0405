import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { sourceOf } from "./support/render.js";
import { seededNormal } from "./support/seeded-normal.js";
import { frames } from "./support/track.js";

const COLUMNS = 80;
const SPEED = 2.1;
const edge = (behind: number) => 1 / (1 + Math.exp(-1.7 * behind));
const front = (c: number, t: number) => edge(SPEED * t - 2 - c);
/** A cloud nearly as bright that follows and falls back. */
const cloud = (c: number, t: number) => 0.9 * Math.exp(-0.5 * ((t - 20 - c / 1.9) / 4) ** 2);

async function outcomeOf(change: (column: number, time: number) => number, noise: number) {
  const normal = seededNormal(4);
  const source = sourceOf(
    { numbers: frames(70), rows: 6, columns: COLUMNS },
    (_, c, t) => 80 + 40 * change(c, t) + noise * normal(),
  );
  const outcome = await trackFront(source, {
    path: [
      [0, 2.5],
      [COLUMNS - 1, 2.5],
    ],
    width: 6,
  });
  if (outcome.status !== "tracked") throw new Error(`expected a front, got ${outcome.status}`);
  return outcome;
}

describe("ambiguous-front", () => {
  // In little noise the edge itself is several splits in time: they must not pass for changes that bound it.
  it.each([2, 10])(
    "is raised where a cloud follows on another line, both lines given; noise of %s DN a pixel in 40",
    async (noise) => {
      const { track, alternatives, warnings } = await outcomeOf((c, t) => front(c, t) + cloud(c, t), noise);
      const { slopePixelsPerFrame, standardUncertaintyPixelsPerFrame } = track.line;
      expect(Math.abs(slopePixelsPerFrame - SPEED)).toBeLessThan(3 * standardUncertaintyPixelsPerFrame);
      expect(alternatives.length).toBeGreaterThan(0);
      // The speed of the cloud to 3 %: its edges are as wide as a fifth of the path.
      for (const line of alternatives)
        expect(Math.abs(line.slopePixelsPerFrame / 1.9 - 1)).toBeLessThan(0.03);
      const warning = warnings.find(({ code }) => code === "ambiguous-front");
      expect(warning?.message).toContain(
        `${slopePixelsPerFrame.toPrecision(3)} px a frame; another runs from `,
      );
    },
  );

  it("is not raised for the plain front, which has one line", async () => {
    const { fronts, alternatives, warnings } = await outcomeOf(front, 2);
    expect(fronts.length).toBe(1);
    expect(alternatives).toEqual([]);
    expect(warnings.map(({ code }) => code)).not.toContain("ambiguous-front");
  });
});
