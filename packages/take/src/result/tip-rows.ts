import type { FollowedCrack } from "../following/follow-cracks.js";
import type { Settings } from "../settings/settle.js";
import type { TipRow } from "../types.js";

/** The tips of cracks, frame by frame: where each was in the picture, and how far along its own course. */
export function tipRows(
  cracks: readonly FollowedCrack[],
  { rateHz, metresPerPixel }: Settings,
): readonly TipRow[] {
  return cracks.flatMap(({ points, outcome }, k) => {
    if (outcome.status !== "tracked") return [];
    const { positions, line } = outcome.track;
    const isForward = line.slopePixelsPerFrame > 0;
    return positions.map((position): TipRow => {
      const { frame, positionPixels, standardUncertaintyPixels, residualPixels, used } = position;
      const length = isForward ? positionPixels : points.length - 1 - positionPixels;
      const [x, y] = pointAt(points, positionPixels);
      return {
        branch: k + 1,
        frame,
        timeSeconds: (position.timeFrames ?? frame) / rateHz.value,
        x,
        y,
        lengthPixels: length,
        lengthMetres: length * metresPerPixel.value,
        standardUncertaintyPixels,
        residualPixels,
        used,
      };
    });
  });
}

/** Where a course, one point for every px, has a length; beyond its ends it goes on straight. */
function pointAt(points: readonly (readonly [number, number])[], length: number): readonly [number, number] {
  const k = Math.min(points.length - 2, Math.max(0, Math.floor(length)));
  const [[x1, y1], [x2, y2]] = [points[k], points[k + 1]];
  return [x1 + (length - k) * (x2 - x1), y1 + (length - k) * (y2 - y1)];
}
