import { describe, expect, it } from "vitest";
import { isSudden } from "../../src/one-front/is-sudden.js";
import { streakOf } from "../support/frame-list.js";
import { reading } from "../support/reading.js";
import { sourceOf } from "../support/render.js";
import { frames } from "../support/track.js";

const SPEED = 2;
const FALLS = 12;

/** Light of 40 DN that begins at a front, 10 px along the path in frame 0, and falls by this part of it in a dozen frames; then it stays as it is. */
const falling = (part: number) =>
  streakOf(
    sourceOf({ numbers: frames(60), rows: 2, columns: 100 }, (_, c, t) => {
      const age = t - (c - 10) / SPEED;
      return age < 0 ? 60 : 60 + 40 * (1 - part * Math.min(1, age / FALLS));
    }),
  );
const edge = reading({ slopePixelsPerFrame: SPEED, interceptPixels: 10 });
/** Where the fall has come to its end. */
const end = reading({ slopePixelsPerFrame: SPEED, interceptPixels: 10 - SPEED * FALLS, change: () => -40 });

describe("isSudden", () => {
  it.each([0, 0.5, 1])("is so of an edge behind which the light falls by %d of it", async (part) => {
    expect(isSudden(await falling(part), edge)).toBe(true);
  });

  it("is not so of the bend in which light that fell evenly has come to its end", async () => {
    expect(isSudden(await falling(1), end)).toBe(false);
  });

  it("takes for sudden what is seen too near the ends of the take to be told, or passes and leaves nothing", async () => {
    const streak = await falling(1);
    expect(isSudden(streak, { ...end, kept: [20, 21, 22, 23] })).toBe(true);
    const pulse = { ...end.front!, motion: { ...end.front!.motion, shape: "pulse" as const } };
    expect(isSudden(streak, { ...end, front: pulse })).toBe(true);
  });
});
