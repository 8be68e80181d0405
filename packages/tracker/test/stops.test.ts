import { describe, expect, it } from "vitest";
import { render } from "./support/render.js";
import { expectCovered, frames, track } from "./support/track.js";

describe("a front that stops on the path", () => {
  it.each([12, 20, 40])(
    "after %i of 60 frames: no positions where nothing moves, and it is said",
    async (stops) => {
      const source = render({
        numbers: frames(60),
        rows: 20,
        columns: 240,
        frontAt: (time) => 4 * Math.min(time, stops) - 6,
        noise: 5,
        seed: 8,
      });
      const found = await track(source);
      expectCovered(found, 4);
      expect(found.codes).toContain("front-ends");
      // The frame in which it stops and one beyond may still show it.
      expect(found.positions.filter(({ frame, used }) => used && frame > stops + 2)).toEqual([]);
    },
  );
});

describe("a slow front, and light that jumps while it runs", () => {
  it.each([0.02, -0.03])("by %f: divided out", async (jump) => {
    const source = render({
      numbers: frames(60),
      rows: 20,
      columns: 120,
      frontAt: (time) => 40 + 0.8 * time,
      light: (number) => (number < 30 ? 1 : 1 + jump),
      noise: 5,
      seed: 9,
    });
    const found = await track(source);
    expectCovered(found, 0.8);
    expect(found.codes).toContain("flicker-divided-out");
  });
});
