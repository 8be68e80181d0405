import type { Box } from "./clearance.js";

/** Lines are this far apart, in units of the letters' height. */
export const LINE_HEIGHT = 1.25;

/** What a box must keep away from in one frame: its distance from each, px. */
export type Obstacle = (box: Box) => number;

/** A box stands in one place, or in so many one after the other. */
export const MOST_PLACES = 3;
/** Frames. */
const SHORTEST_RUN = 4;

export interface LayoutRules {
  /** Of the picture, px. */
  readonly width: number;
  readonly height: number;
  /** Least distance from the picture's edge, px. */
  readonly margin: number;
  /** Least distance from obstacles, px. */
  readonly gap: number;
  /** How many places a box may have one after the other. */
  readonly mostPlaces: number;
}

/** Where a box of a size stands in every frame, clear of what that frame shows: the corner farthest from all of it, or a middle where no
 *  corner is clear throughout; where neither is, one place after the other, each for as long as it is clear.
 *  @param frames  what is to be kept clear in each
 *  @returns a box for every frame, or null: there is no place, or it would move too often */
export function placeInFrames(
  size: Pick<Box, "width" | "height">,
  frames: readonly (readonly Obstacle[])[],
  rules: LayoutRules,
): Box[] | null {
  const { corners, edges } = placesFor(size, rules);
  for (const boxes of [corners, edges]) {
    const fixed = farthest(boxes, frames, rules.gap);
    if (fixed) return frames.map(() => fixed);
  }
  const boxes = [...corners, ...edges];
  const isClear = boxes.map((box) => frames.map((frame) => clearance(box, frame) >= rules.gap));
  const placed: Box[] = [];
  for (let moves = 0; placed.length < frames.length; moves++) {
    if (moves === rules.mostPlaces) return null;
    const runs = isClear.map((clear) => runLength(clear, placed.length));
    const longest = Math.max(0, ...runs);
    if (longest === 0) return null;
    placed.push(...Array<Box>(longest).fill(boxes[runs.indexOf(longest)]));
  }
  return placed;
}

/** The same with nothing where no place is clear for some frames on end: a text that comes and goes cannot be read. */
export function placeWhereClear(
  size: Pick<Box, "width" | "height">,
  frames: readonly (readonly Obstacle[])[],
  rules: LayoutRules,
): (Box | null)[] {
  const { corners, edges } = placesFor(size, rules);
  const boxes = [...corners, ...edges];
  const isClear = boxes.map((box) => frames.map((frame) => clearance(box, frame) >= rules.gap));
  const placed: (Box | null)[] = [];
  while (placed.length < frames.length) {
    const runs = isClear.map((clear) => runLength(clear, placed.length));
    const longest = Math.max(0, ...runs);
    if (longest < SHORTEST_RUN) placed.push(null);
    else placed.push(...Array<Box>(longest).fill(boxes[runs.indexOf(longest)]));
  }
  return placed;
}

/** Corners, and middles of the edges and of the picture, at which a box fits in, in the order in which they are taken where it makes no difference. */
function placesFor({ width, height }: Pick<Box, "width" | "height">, rules: LayoutRules) {
  const { margin } = rules;
  const [right, bottom] = [rules.width - margin - width, rules.height - margin - height];
  if (right < margin || bottom < margin) return { corners: [], edges: [] };
  const at = (left: number, top: number): Box => ({ left, top, width, height });
  const [middle, halfway] = [(rules.width - width) / 2, (rules.height - height) / 2];
  return {
    corners: [at(margin, margin), at(right, margin), at(margin, bottom), at(right, bottom)],
    edges: [
      at(middle, margin),
      at(middle, bottom),
      at(margin, halfway),
      at(right, halfway),
      at(middle, halfway),
    ],
  };
}

function farthest(boxes: readonly Box[], frames: readonly (readonly Obstacle[])[], gap: number): Box | null {
  const distances = boxes.map((box) => Math.min(...frames.map((frame) => clearance(box, frame))));
  const most = Math.max(Number.NEGATIVE_INFINITY, ...distances);
  return most >= gap ? boxes[distances.indexOf(most)] : null;
}

function clearance(box: Box, frame: readonly Obstacle[]): number {
  return frame.reduce((least, distance) => Math.min(least, distance(box)), Number.POSITIVE_INFINITY);
}

function runLength(clear: readonly boolean[], from: number): number {
  let to = from;
  while (clear[to]) to++;
  return to - from;
}
