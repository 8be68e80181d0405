import { describe, expect, test } from "vitest";
import { shearStrips } from "../../src/one-front/shear-strips.js";

const positions = 40;
const stripOffsetsPixels = [-6, -2, 2, 6];
const stripCounts = stripOffsetsPixels.map(() => new Float64Array(positions).fill(4));

/** Strips of one frame whose brightness is a ramp along the path, ahead by tangent · offset in each. */
function ramps(tangent: number) {
  return stripOffsetsPixels.map((offset) =>
    Float64Array.from({ length: positions }, (_, p) => 100 + 3 * (p - tangent * offset)),
  );
}

describe("shearStrips", () => {
  test.each([0, 0.25, -0.7, 1.3])(
    "brings a ramp tilted by %f back to the ramp on the path, to rounding",
    (tangent) => {
      const { field, firstPixels } = shearStrips(
        ramps(tangent),
        { stripOffsetsPixels, stripCounts },
        tangent,
      );
      const reach = Math.abs(6 * tangent);
      let compared = 0;
      for (let q = 0; q < field.positions; q++) {
        const place = firstPixels + q;
        // Where all four strips reach, each position has its full weight.
        if (place < reach || place > positions - 1 - reach) continue;
        expect(Math.abs(field.data[q] - (100 + 3 * place))).toBeLessThan(1e-10);
        compared++;
      }
      expect(compared).toBeGreaterThan(20);
    },
  );

  test("weights a position by the root of what it averages, so that noise is the same everywhere", () => {
    const flat = stripOffsetsPixels.map(() => new Float64Array(positions).fill(1));
    const { field, firstPixels } = shearStrips(flat, { stripOffsetsPixels, stripCounts }, 1);
    // At the outermost place only the strip farthest off reaches: one of four.
    expect(firstPixels).toBe(-6);
    expect(field.data[0]).toBeCloseTo(Math.sqrt(1 / 4), 12);
    expect(field.data[20 - firstPixels]).toBeCloseTo(1, 12);
  });

  test("leaves out a strip where it is not whole", () => {
    const counts = stripCounts.map((count) => Float64Array.from(count));
    counts[0].fill(0, 0, 10);
    const strips = ramps(0);
    strips[0].fill(0, 0, 10);
    const { field } = shearStrips(strips, { stripOffsetsPixels, stripCounts: counts }, 0);
    expect(field.data[5]).toBeCloseTo((100 + 15) * Math.sqrt(3 / 4), 10);
  });
});
