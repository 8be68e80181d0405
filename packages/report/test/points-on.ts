import type { ReportedFrontPlace } from "../src/words/reported-result.js";

/** Points evenly along a front: of a tip along its ring. */
export function pointsOn(
  { kind, points = [], centre, radius }: ReportedFrontPlace,
  ring: number,
  count = 400,
): (readonly [number, number])[] {
  return Array.from({ length: count + 1 }, (_, k) => {
    const share = k / count;
    if (kind === "line") {
      const part = Math.min(points.length - 2, Math.floor(share * (points.length - 1)));
      const along = share * (points.length - 1) - part;
      const [[x1, y1], [x2, y2]] = points.slice(part, part + 2);
      return [x1 + along * (x2 - x1), y1 + along * (y2 - y1)];
    }
    const [x, y] = centre ?? points[0];
    const r = radius ?? ring;
    return [x + r * Math.cos(2 * Math.PI * share), y + r * Math.sin(2 * Math.PI * share)];
  });
}
