import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Box, clearanceOfBox, clearanceOfFront } from "../../src/overlay/clearance.js";
import { pointsOn } from "../points-on.js";

// Evenly: most doubles drawn lie at 0 and at the ends of their range.
const at = fc.integer({ min: -5000, max: 25_000 }).map((value) => value / 100);
const side = fc.integer({ min: 10, max: 12_000 }).map((value) => value / 100);
const box = fc.record({ left: at, top: at, width: side, height: side });
const front = fc.oneof(
  fc.record({
    kind: fc.constant("line" as const),
    points: fc.array(fc.tuple(at, at), { minLength: 2, maxLength: 5 }),
  }),
  fc.record({ kind: fc.constant("circle" as const), centre: fc.tuple(at, at), radius: side }),
  fc.record({ kind: fc.constant("tip" as const), points: fc.tuple(fc.tuple(at, at)) }),
);

const distance = ({ left, top, width, height }: Box, [x, y]: readonly [number, number]) =>
  Math.hypot(x - Math.min(left + width, Math.max(left, x)), y - Math.min(top + height, Math.max(top, y)));

describe("the distance of a box", () => {
  it("from a front is that of the nearest of many points on it", () => {
    fc.assert(
      fc.property(box, front, (one, place) => {
        const ring = 4;
        const points = pointsOn(place, ring);
        const nearest = Math.min(...points.map((point) => distance(one, point)));
        const step = Math.max(
          ...points.slice(1).map(([x, y], k) => Math.hypot(x - points[k][0], y - points[k][1])),
        );
        const found = clearanceOfFront(one, place, ring);
        expect(found).toBeLessThanOrEqual(nearest + 1e-9);
        // A box within the ring of a tip counts as on it.
        if (found > 0 || place.kind !== "tip") expect(found).toBeGreaterThanOrEqual(nearest - step);
      }),
    );
  });

  it("from another box is 0 where they meet, and else that of their nearest corners or sides", () => {
    const one = { left: 0, top: 0, width: 10, height: 10 };
    expect(clearanceOfBox(one, { left: 5, top: -4, width: 10, height: 10 })).toBe(0);
    expect(clearanceOfBox(one, { left: 13, top: 14, width: 1, height: 1 })).toBe(5);
    expect(clearanceOfBox({ left: 2, top: 30, width: 1, height: 1 }, one)).toBe(20);
  });
});
