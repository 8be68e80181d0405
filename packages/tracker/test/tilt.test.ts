import { describe, expect, it } from "vitest";
import type { Point } from "../src/index.js";
import { render } from "./support/render.js";
import { expectCovered, expectRelative, frames, track } from "./support/track.js";

const SPEED = 1.37;
const ALONG: readonly [Point, Point] = [
  [0, 20],
  [89, 20],
];
const BACK: readonly [Point, Point] = [
  [89, 20],
  [0, 20],
];

/** Invented: the normal of the front points `degrees` below the rows. */
function tilted(degrees: number) {
  const angle = (degrees * Math.PI) / 180;
  const heading: Point = [Math.cos(angle), Math.sin(angle)];
  const frontAt = (time: number) => 8 + SPEED * time;
  return render({ numbers: frames(40), rows: 40, columns: 90, heading, frontAt, noise: 1, seed: 5 });
}

const SEEDS = [1, 2, 3, 4];
const SPEED_ACROSS = 2.3;
const MIDDLE_ROW: readonly [Point, Point] = [
  [0, 23.5],
  [63, 23.5],
];

/** A picture of 64 x 48 px that a front crosses from corner to corner, or the middle two thirds of that. */
function acrossPicture(
  degrees: number,
  part: "whole" | "middle",
  seed: number,
  light?: (frame: number) => number,
) {
  const angle = (degrees * Math.PI) / 180;
  const heading: Point = [Math.cos(angle), Math.sin(angle)];
  const first = Math.min(0, 47 * heading[1]);
  const way = 63 * heading[0] + 47 * Math.abs(heading[1]);
  const frontAt = (time: number) => first + 0.13 * seed + SPEED_ACROSS * time;
  const count = Math.floor(way / SPEED_ACROSS);
  const numbers =
    part === "whole" ? frames(count + 6, -3) : frames(Math.round((2 * count) / 3), Math.round(count / 6));
  return render({
    numbers,
    rows: 48,
    columns: 64,
    heading,
    frontAt,
    noise: 4,
    seed,
    ...(light && { light }),
  });
}

describe("a front whose normal does not lie along the path", () => {
  // Seen lower in the picture (the right-hand side of a path to the right) such a front is behind by tan(tilt) px a
  // row, so its tilt counts negative.
  it.each([10, -10])(
    "tilted by %i degrees is measured within half a degree and warned of",
    async (degrees) => {
      for (const options of [{}, { path: ALONG }, { path: BACK }]) {
        const { tilt, codes } = await track(tilted(degrees), options);
        expect(Math.abs((tilt?.degrees ?? Number.NaN) + degrees)).toBeLessThan(0.5);
        expect(codes).toContain("front-tilted");
      }
    },
  );

  it.each([3, -3])(
    "tilted by %i degrees is measured within half a degree and not warned of",
    async (degrees) => {
      const { tilt, codes } = await track(tilted(degrees), { path: ALONG });
      expect(Math.abs((tilt?.degrees ?? Number.NaN) + degrees)).toBeLessThan(0.5);
      expect(codes).not.toContain("front-tilted");
    },
  );

  it("runs along the path faster than across itself, by the cosine of the tilt", async () => {
    const { line } = await track(tilted(10), { path: ALONG });
    expectRelative(line.slopePixelsPerFrame, SPEED / Math.cos(Math.PI / 18), 1e-3);
  });

  const steep = [15, 30, 45, 55].flatMap((degrees) =>
    (["whole", "middle"] as const).map((part) => ({ degrees, part })),
  );
  it.each(steep)(
    "tilted by $degrees degrees across a whole picture, seen on the $part of its way, is measured within its uncertainties",
    async ({ degrees, part }) => {
      const angle = (degrees * Math.PI) / 180;
      const speedAlong = SPEED_ACROSS / Math.cos(angle);
      const squares = { speed: 0, tilt: 0 };
      for (const seed of SEEDS) {
        const side = seed % 2 ? 1 : -1;
        const { tilt, line } = await track(acrossPicture(side * degrees, part, seed), {
          path: MIDDLE_ROW,
          width: 48,
        });
        expect(line.standardUncertaintyPixelsPerFrame / speedAlong).toBeLessThan(1.5e-3);
        squares.speed +=
          ((line.slopePixelsPerFrame - speedAlong) / line.standardUncertaintyPixelsPerFrame) ** 2;
        const miss = (tilt?.degrees ?? Number.NaN) + side * degrees;
        squares.tilt += (miss / (tilt?.standardUncertaintyDegrees ?? 0)) ** 2;
      }
      // Chi-squared with four degrees of freedom exceeds 18.5 once in a thousand.
      expect(squares.speed).toBeLessThan(18.5);
      expect(squares.tilt).toBeLessThan(18.5);
    },
  );

  it.each([
    { what: "flickers", light: (frame: number) => 1 + 0.03 * Math.sin(2.3 * frame) },
    { what: "jumps", light: (frame: number) => (frame < 18 ? 1 : 1.1) },
  ])("tilted by 45 degrees is measured in a light that $what", async ({ light }) => {
    const found = await track(acrossPicture(45, "whole", 1, light), { path: MIDDLE_ROW, width: 48 });
    expect(found.codes).toContain("flicker-divided-out");
    expectCovered(found, SPEED_ACROSS * Math.SQRT2);
    expect(found.line.standardUncertaintyPixelsPerFrame).toBeLessThan(1e-3 * SPEED_ACROSS);
    expect(Math.abs((found.tilt?.degrees ?? Number.NaN) + 45)).toBeLessThan(0.1);
  });

  it("has no tilt where the width is one pixel", async () => {
    expect((await track(tilted(0), { path: ALONG, width: 1 })).tilt).toBeNull();
  });
});
