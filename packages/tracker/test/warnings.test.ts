import { describe, expect, it } from "vitest";
import { trackFront } from "../src/index.js";
import { type InventedTake, render } from "./support/render.js";
import { frames, track } from "./support/track.js";

const TAKE: InventedTake = {
  numbers: frames(40),
  rows: 12,
  columns: 110,
  frontAt: (time) => 10 + 2.1 * time,
  noise: 2,
  seed: 3,
};
const codes = async (change: Partial<InventedTake>) => (await track(render({ ...TAKE, ...change }))).codes;

describe("warnings", () => {
  it("saturated: where the bright side stands at the end of the scale, and not below it", async () => {
    expect(await codes({ bitDepth: 8, before: 100, step: 200 })).toContain("saturated");
    expect(await codes({ bitDepth: 8, before: 60, step: 150 })).not.toContain("saturated");
  });

  it("saturated: also where nothing was found", async () => {
    const source = render({ ...TAKE, bitDepth: 8, before: 300, frontAt: () => -50 });
    const outcome = await trackFront(source);
    expect(outcome.status).toBe("not-found");
    expect(outcome.warnings.map(({ code }) => code)).toEqual(["saturated"]);
  });

  it("few-frames: below 20 frames with the front, not above", async () => {
    expect(await codes({ numbers: frames(12) })).toContain("few-frames");
    expect(await codes({})).not.toContain("few-frames");
  });

  it.each([0.005, 0.02, 0.05])(
    "speed-not-constant: a front that gains %f px a frame in every frame",
    async (gain) => {
      const frontAt = (time: number) => 8 + 1.5 * time + (gain * time * time) / 2;
      expect(await codes({ columns: 160, frontAt })).toContain("speed-not-constant");
    },
  );

  it.each([1, 2, 3, 4, 5])("speed-not-constant: not for a constant speed, seed %i", async (seed) => {
    expect(await codes({ seed })).not.toContain("speed-not-constant");
  });

  it("front-leaves: where frames follow after the front left the path, not where it stays", async () => {
    expect(await codes({ numbers: frames(70) })).toContain("front-leaves");
    expect(await codes({})).not.toContain("front-leaves");
  });

  it("smeared: where the stated exposure spreads the front over more than twice its width", async () => {
    const fast = { numbers: frames(24), columns: 240, frontAt: (time: number) => 3 + 10 * time };
    const source = render({ ...TAKE, ...fast, exposureFraction: 1 });
    expect((await track(source, { exposureFraction: 1 })).codes).toContain("smeared");
    expect((await track(source, { exposureFraction: 0.1 })).codes).not.toContain("smeared");
  });
});
