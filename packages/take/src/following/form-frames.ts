import type { RigidFront } from "@frontpace/arrival";
import type { FrameSource } from "@frontpace/tracker";
import { sampledFrames } from "../footage/sampled-frames.js";
import { longestTogether } from "./longest-together.js";
import { spanWithin } from "./span-within.js";

type Point = readonly [x: number, y: number];

/** Fewest lines read, and shortest, px. */
const FEWEST = { lines: 8, pixels: 16 };

/** Frames of a front that moves as a whole: a row for every line along its run, 1 px apart, a column for every pixel along it, each row set back by as much as
 *  the front lies behind there. It is a straight front along the rows, at the same speed.
 *  @param width  of the band through the middle of the picture that is read, px; null: all of it
 *  @returns with the line nearest to the middle, in the picture; null where no lines long enough lie in the picture */
export function formFrames(
  frames: FrameSource,
  { angleDegrees, lagPixels }: RigidFront,
  width: number | null,
): { readonly source: FrameSource; readonly path: readonly [Point, Point] } | null {
  const angle = (angleDegrees.value * Math.PI) / 180;
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
  const [mx, my] = [(frames.columns - 1) / 2, (frames.rows - 1) / 2];
  const reach = Math.floor(Math.min(Math.hypot(mx, my), ((width ?? Number.POSITIVE_INFINITY) - 1) / 2));
  const lines = Array.from({ length: 2 * reach + 1 }, (_, k) => k - reach).flatMap((across) => {
    const lag = lagPixels(across);
    if (!Number.isFinite(lag)) return [];
    const [from, to] = spanWithin(frames, [mx - across * dy, my + across * dx], [dx, dy]);
    return [{ across, lag, span: [from + lag, to + lag] as const }];
  });
  const spans = lines.map(({ span }) => span);
  const ends = [Math.min(...spans.map(([from]) => from)), Math.max(...spans.map(([, to]) => to))] as const;
  const stretch = longestTogether(spans, ends, FEWEST);
  if (!stretch) return null;
  const [first, last] = stretch;
  const read = lines.filter(({ span: [from, to] }) => from <= first && to >= last);
  const columns = Math.floor(last - first) + 1;
  const placeAt = (row: number, column: number): Point => {
    const { across, lag } = read[row];
    const along = first + column - lag;
    return [mx + along * dx - across * dy, my + along * dy + across * dx];
  };
  const middle = read.reduce(
    (best, { across }, k) => (Math.abs(across) < Math.abs(read[best].across) ? k : best),
    0,
  );
  return {
    source: sampledFrames(frames, { rows: read.length, columns, placeAt }),
    path: [placeAt(middle, 0), placeAt(middle, columns - 1)],
  };
}
