import { describe, expect, it } from "vitest";
import { seededNormal } from "../../../../test/support/seeded-normal.js";
import { steepestLine } from "../../src/first-look/steepest-line.js";
import { sourceOf } from "../support/render.js";
import { expectCovered, frames, track } from "../support/track.js";

const ROWS = 16;
const MIDDLE = (ROWS - 1) / 2;

/** A level that rises within 1.5 px at the front and falls back to nothing behind it, by e in so many px; shot noise. */
function fallingBack(speed: number, lengthPixels: number) {
  const normal = seededNormal(1);
  const numbers = frames(60);
  return sourceOf({ numbers, rows: ROWS, columns: 200, bitDepth: 8 }, (_, column, number) => {
    const behind = speed * (number - numbers[5]) - column;
    const rise = 1 / (1 + Math.exp(-1.6 * behind));
    const level = 40 + 110 * rise * Math.exp(-Math.max(0, behind) / lengthPixels);
    return level + 0.12 * Math.sqrt(level) * normal();
  });
}

describe("a front behind which the level falls back to nothing", () => {
  it.each([
    { speed: 4.97, lengthPixels: 25 },
    { speed: 4.06, lengthPixels: 25 },
    { speed: 3.3, lengthPixels: 12 },
  ])("at $speed px a frame, by e in $lengthPixels px, is measured where it rises", async (take) => {
    const found = await track(fallingBack(take.speed, take.lengthPixels), {
      path: [
        [0, MIDDLE],
        [199, MIDDLE],
      ],
      width: 15,
    });
    expectCovered(found, take.speed);
    expect(found.line.standardUncertaintyPixelsPerFrame).toBeLessThan(0.002 * take.speed);
  });
});

describe("the line of steepest change", () => {
  const lineIn = (level: (frame: number, position: number) => number) => {
    const normal = seededNormal(3);
    const data = Float64Array.from(
      { length: 40 * 60 },
      (_, at) => level(Math.floor(at / 60), at % 60) + normal(),
    );
    return steepestLine({ data, frames: 40, positions: 60 }, frames(40), 1, 0);
  };
  const rising = (frame: number, position: number) => {
    const behind = 2 * (frame - 4.2) - position;
    return behind < 0 ? 0 : 60 * Math.exp(-behind / 10);
  };

  it("is where a level rises that falls back, half a frame before the first that shows it on the mean", () => {
    const line = lineIn(rising);
    expect(line?.framesPerPixel).toBeCloseTo(0.5, 1);
    expect(Math.abs((line?.frameAtOrigin ?? Number.NaN) - frames(40)[0] - 4.2)).toBeLessThan(0.5);
  });

  it("is none of noise, of a change everywhere at once, or of changes here and there", () => {
    expect(lineIn(() => 0)).toBeNull();
    expect(lineIn((frame) => (frame < 20 ? 0 : 60))).toBeNull();
    expect(lineIn((frame, position) => (frame < (position * 17) % 37 ? 0 : 60))).toBeNull();
  });
});
