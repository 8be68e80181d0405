import { describe, expect, it } from "vitest";
import { trackFront } from "../../src/index.js";
import { converted, picturesOf, withPictures } from "../support/frame-list.js";
import { type InventedTake, render } from "../support/render.js";
import { expectCovered, frames, track } from "../support/track.js";

const TAKE: InventedTake = {
  numbers: frames(30),
  rows: 8,
  columns: 64,
  frontAt: (time) => 6 + 2.1 * time,
  noise: 2,
  bitDepth: 8,
  seed: 31,
};
const PATH = {
  path: [
    [0, 4],
    [63, 4],
  ],
  width: 8,
} as const;
/** The take with copies of the frames at `extra`, and copies in place of those after `lost`. */
async function stored(take: InventedTake, { extra = [] as number[], lost = [] as number[] }) {
  const source = render(take);
  const pictures = await picturesOf(source);
  return withPictures(
    source,
    pictures.flatMap((picture, i) => {
      const kept = lost.includes(i - 1) ? pictures[i - 1] : picture;
      return extra.includes(i) ? [kept, kept] : [kept];
    }),
  );
}
const evaluated = (timeBase: object) => timeBase as { standardUncertaintyPixelsPerFrame?: number };

describe("time base", () => {
  it("reads an extra copy as such: the slope holds, later frames are an interval earlier", async () => {
    const outcome = await trackFront(await stored(TAKE, { extra: [12] }), PATH);
    if (outcome.status !== "tracked") throw new Error(outcome.status);
    expectCovered(outcome.track, 2.1);
    expect(evaluated(outcome.track.line.contributions.timeBase).standardUncertaintyPixelsPerFrame).toBe(0);
    const { positions } = outcome.track;
    expect(positions.find(({ frame }) => frame === 12)).not.toHaveProperty("timeFrames");
    expect(positions.find(({ frame }) => frame === 13)).toBeUndefined();
    expect(positions.find(({ frame }) => frame === 20)).toMatchObject({ frame: 20, timeFrames: 19 });
    const [warning] = outcome.warnings.filter(({ code }) => code === "duplicate-frames");
    expect(warning.message).toMatch(/^frame 13 is a copy .* clearly read 13 as extra/);
  });

  it("tells copies of both kinds apart", async () => {
    const outcome = await trackFront(await stored(TAKE, { extra: [8], lost: [18] }), PATH);
    if (outcome.status !== "tracked") throw new Error(outcome.status);
    expectCovered(outcome.track, 2.1);
    const [warning] = outcome.warnings.filter(({ code }) => code === "duplicate-frames");
    expect(warning.message).toMatch(/clearly read 9 as extra.*, 20 as in place of a lost frame/);
  });

  it("puts the difference into the uncertainty where the front wanders by more than a frame", async () => {
    const slow = { ...TAKE, frontAt: (time: number) => 6 + 0.8 * time + 0.8 * Math.sin(0.45 * time) };
    const { line, codes } = await track(await stored(slow, { extra: [15] }), PATH);
    expect(codes).toContain("duplicate-frames");
    // An interval more or less among 30 moves the speed by about 5 %.
    const doubt = evaluated(line.contributions.timeBase).standardUncertaintyPixelsPerFrame ?? 0;
    expect(doubt).toBeGreaterThan(0.002);
    expect(doubt).toBeLessThan(0.05);
  });

  it("says that times are even where all frames differ, and nothing where there is no noise", async () => {
    const even = await track(render(TAKE), PATH);
    expect(even.codes).not.toContain("duplicate-frames");
    expect(even.line.contributions.timeBase).toEqual({
      standardUncertaintyPixelsPerFrame: 0,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
    });
    const noiseless = await track(render({ ...TAKE, noise: 0, bitDepth: 32 }), PATH);
    expect(noiseless.line.contributions.timeBase).toHaveProperty("notEvaluated");
  });

  it.each(["repeat", "blend"] as const)("gives no speed for a clip converted by %s", async (how) => {
    const source = render(TAKE);
    const clip = withPictures(source, converted(await picturesOf(source), [4, 5], how));
    const outcome = await trackFront(clip, PATH);
    expect(outcome.status).toBe("not-found");
    expect(outcome).toMatchObject({ reason: "interpolated-export" });
    expect(outcome).toHaveProperty(
      "message",
      expect.stringMatching(/every 5 frames.*Export the original frames/),
    );
  });
});
