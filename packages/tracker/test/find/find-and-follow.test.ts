import { expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { findAndFollow } from "../../src/find/find-and-follow.js";
import { sampleNormal } from "../../src/model/normal-distribution.js";
import { streakOf } from "../support/frame-list.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";

const SPEED = 1.5;
const FADES = 14;

it("takes the edge of a front whose light falls evenly to nothing for the only front: where the fall ends there is a bend", async () => {
  const normal = seededNormal(12);
  const sample = { density: 0, distribution: 0 };
  const streak = await streakOf(
    sourceOf({ numbers: frames(80), rows: 4, columns: 160 }, (_, c, t) => {
      const behind = 19 + SPEED * t - c;
      sampleNormal(behind / 1.5, sample);
      const light = Math.max(0, 1 - Math.max(0, behind) / SPEED / FADES);
      return 60 + 60 * sample.distribution * light + 0.9 * normal();
    }),
  );
  const options = { sign: 0, exposureFraction: undefined, isPathGiven: true, pause: async () => {} } as const;
  const { fronts } = await findAndFollow(streak, options);
  expect(fronts).toHaveLength(1);
  const edge = fronts[0].front!;
  // one in 10⁴ is this far out
  expect(Math.abs(edge.line.slope - SPEED)).toBeLessThan(4 * edge.line.slopeStandardUncertainty);
  expect(edge.line.slopeStandardUncertainty).toBeLessThan(1e-3 * SPEED);
});
