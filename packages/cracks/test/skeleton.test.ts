import { describe, expect, it } from "vitest";
import { lengthsAlong, smoothCourse } from "../src/smooth-course.js";
import { thin } from "../src/thin.js";
import { traceSkeleton } from "../src/trace-skeleton.js";
import type { Point } from "../src/types.js";
import { withoutSpurs } from "../src/without-spurs.js";

function pictureOf(rows: readonly string[]): { picture: Uint8Array; rows: number; columns: number } {
  const columns = rows[0].length;
  const picture = Uint8Array.from(rows.join(""), (letter) => (letter === "#" ? 1 : 0));
  return { picture, rows: rows.length, columns };
}

describe("thin", () => {
  it("leaves a bar one pixel wide, and in one piece", () => {
    const bar = pictureOf(["............", ".##########.", ".##########.", ".##########.", "............"]);
    const thinned = thin(bar.picture, bar.rows, bar.columns);
    for (let column = 3; column <= 8; column++) {
      const inColumn = [1, 2, 3].filter((row) => thinned[row * bar.columns + column] === 1);
      expect(inColumn).toEqual([2]);
    }
  });
});

describe("traceSkeleton", () => {
  it("finds three ends, one place where lines meet, and three lines", () => {
    const y = pictureOf([
      ".............",
      ".#.......#...",
      "..#.....#....",
      "...#...#.....",
      "....#.#......",
      ".....#.......",
      ".....#.......",
      ".....#.......",
      ".............",
    ]);
    const { nodes, edges } = traceSkeleton(y.picture, y.columns);
    expect(nodes.map(({ degree }) => degree).toSorted()).toEqual([1, 1, 1, 3]);
    expect(edges).toHaveLength(3);
    expect(nodes.find(({ degree }) => degree === 3)?.at).toEqual([5, 5]);
  });
});

describe("withoutSpurs", () => {
  it("takes off a short side line and keeps the long one whole", () => {
    const line = pictureOf([
      "..........................",
      "............#.............",
      "............#.............",
      ".########################.",
      "..........................",
    ]);
    const { edges } = withoutSpurs(line.picture, line, 6);
    expect(edges).toHaveLength(1);
    expect(edges[0].pixels.length).toBeGreaterThanOrEqual(20);
  });
});

describe("smoothCourse", () => {
  it("has the length of the line, which the chain of pixels exceeds", () => {
    const slope = Math.tan((22.5 * Math.PI) / 180);
    const chain = Array.from({ length: 120 }, (_, x): Point => [x, Math.round(slope * x)]);
    const length = 119 / Math.cos((22.5 * Math.PI) / 180);
    expect(lengthsAlong(chain)[119] / length).toBeGreaterThan(1.05);
    const course = smoothCourse(chain);
    expect(Math.abs((course.length - 1) / length - 1)).toBeLessThan(0.008);
    for (let k = 1; k < course.length; k++) {
      const [[x1, y1], [x2, y2]] = [course[k - 1], course[k]];
      expect(Math.abs(Math.hypot(x2 - x1, y2 - y1) - 1)).toBeLessThan(0.01);
    }
  });

  it("keeps an arc where it is", () => {
    const chain = Array.from({ length: 100 }, (_, k): Point => {
      const angle = k / 40;
      return [Math.round(40 * Math.cos(angle)), Math.round(40 * Math.sin(angle))];
    });
    for (const [x, y] of smoothCourse(chain)) expect(Math.abs(Math.hypot(x, y) - 40)).toBeLessThan(0.6);
  });
});
