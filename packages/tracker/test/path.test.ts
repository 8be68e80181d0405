import { describe, expect, it } from "vitest";
import type { Point } from "../src/index.js";
import { render } from "./support/render.js";
import { expectCovered, expectRelative, frames, track } from "./support/track.js";

const SPEED = 1.37;

/** A path of 70 px at an angle through the middle of a picture of 101 by 101 px, and an invented front that runs
 *  along it from 5.2 px on. */
function oblique(degrees: number, noise: number) {
  const angle = (degrees * Math.PI) / 180;
  const heading: Point = [Math.cos(angle), Math.sin(angle)];
  const [a, b] = [-35, 35].map((s): Point => [50 + s * heading[0], 50 + s * heading[1]]);
  const start = a[0] * heading[0] + a[1] * heading[1];
  const frontAt = (time: number) => start + 5.2 + SPEED * time;
  const source = render({ numbers: frames(40), rows: 101, columns: 101, heading, frontAt, noise, seed: 7 });
  return { source, a, b, heading };
}

describe("a given path", () => {
  it.each([30, 45, 70, -30, 135])(
    "at %i degrees gives the speed of a front along it within its interval and 1e-3",
    async (degrees) => {
      const { source, a, b, heading } = oblique(degrees, 2);
      const found = await track(source, { path: [a, b] });
      expectCovered(found, SPEED);
      expectRelative(found.line.slopePixelsPerFrame, SPEED, 1e-3);
      expect(found.direction[0] * heading[0] + found.direction[1] * heading[1]).toBeGreaterThan(1 - 1e-9);
    },
  );

  it.each([30, 45])("at %i degrees gives the speed within 1e-4 without noise", async (degrees) => {
    const { source, a, b } = oblique(degrees, 0);
    expectRelative((await track(source, { path: [b, a] })).line.slopePixelsPerFrame, -SPEED, 1e-4);
  });

  it.each([1, 6, 9, 15])("is as wide as asked, %i px, along rows and at an angle", async (width) => {
    const { source, a, b } = oblique(30, 2);
    expect((await track(source, { path: [a, b], width })).width).toBe(width);
    const level = oblique(0, 2);
    expect((await track(level.source, { path: [level.a, level.b], width })).width).toBe(width);
  });

  it("is 15 px wide where no width is stated", async () => {
    const { source, a, b } = oblique(30, 2);
    expect((await track(source, { path: [a, b] })).width).toBe(15);
  });

  it("along the picture's edge averages the half of its width that lies inside", async () => {
    const frontAt = (time: number) => 8.3 + SPEED * time;
    const source = render({ numbers: frames(40), rows: 24, columns: 80, frontAt, noise: 2 });
    const found = await track(source, {
      path: [
        [0, 0],
        [79, 0],
      ],
      width: 15,
    });
    expect(found.width).toBe(8);
    expectCovered(found, SPEED);
  });

  it("that begins at the picture's edge gives the speed within 1e-4 without noise", async () => {
    const heading: Point = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    const frontAt = (time: number) => 2 * heading[1] + 5.2 + SPEED * time;
    const source = render({ numbers: frames(40), rows: 60, columns: 75, heading, frontAt });
    const end: Point = [80 * heading[0], 2 + 80 * heading[1]];
    const found = await track(source, { path: [[0, 2], end] });
    expectRelative(found.line.slopePixelsPerFrame, SPEED, 1e-4);
  });

  it("without a limit to its width is as wide as the picture allows", async () => {
    const { source, a, b } = oblique(45, 2);
    const found = await track(source, { path: [a, b], width: Number.POSITIVE_INFINITY });
    expect(found.width).toBeLessThan(2 * 101 * Math.SQRT2);
    expectRelative(found.line.slopePixelsPerFrame, SPEED, 1e-3);
  });
});
