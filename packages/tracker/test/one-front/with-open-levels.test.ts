import { expect, it } from "vitest";
import { trackFront } from "../../src/index.js";
import { render } from "../support/render.js";
import { frames } from "../support/track.js";
import { wholePicture } from "../support/whole-picture.js";

const [rows, columns, count] = [24, 35, 44];
/** px; the limb of a sphere seen from near, which runs a little faster towards the end and is under way in the last frame. */
const frontAt = (frame: number) => (frame - 5) / Math.sqrt(1 - ((frame - 5) / 160) ** 2) - 6;

it.each([1, 2, 3, 4])(
  "positions in the last frames of a front under way are as unsure as the levels behind it, which no frame shows (seed %i)",
  async (seed) => {
    const source = render({
      numbers: frames(count),
      rows,
      columns,
      frontAt,
      blurPixels: 1.2,
      noise: 3,
      seed,
    });
    const outcome = await trackFront(source, wholePicture(rows, columns));
    if (outcome.status !== "tracked") throw new Error(outcome.status);
    const last = outcome.track.positions.filter(({ frame }) => frame > count - 4);
    expect(last.length).toBeGreaterThan(1);
    for (const { frame, positionPixels, standardUncertaintyPixels } of last)
      expect(Math.abs(positionPixels - frontAt(frame))).toBeLessThan(3.5 * standardUncertaintyPixels);
  },
);
