import type { TextPen } from "../drawing/text-pen.js";
import type { Box } from "./clearance.js";
import {
  type LayoutRules,
  LINE_HEIGHT,
  MOST_PLACES,
  type Obstacle,
  placeInFrames,
  placeWhereClear,
} from "./overlay-layout.js";
import type { Lines, Wording } from "./overlay-words.js";

/** The text of an overlay, and where it stands. */
export interface PlacedText {
  /** Height of the letters, px. */
  readonly size: number;
  /** For every frame; null: there is no text in it. */
  readonly boxes: readonly (Box | null)[];
  readonly lines: readonly Lines[];
  readonly leavesOut: readonly string[];
}

/** Below this letters cannot be read, px; common practice, no source. */
const LEAST_SIZE = 7;
/** Text may become so much smaller before it moves, and so much before a part of it is left out. */
const SMALLER = [
  [1, 0.85, 0.7],
  [0.6, 0.5],
];
/** Share of frames without text, where the front leaves no room, before a part of the text is left out for all. */
const MOST_ABSENT = 0.15;

/** A way of setting the text, and how large it is in letters 1 px high, px. */
interface Setting {
  readonly lines: readonly Lines[];
  readonly unit: Pick<Box, "width" | "height">;
}

/** Sets the text as large as it may be where it is clear of all fronts, and in one place if there is one: it becomes smaller, changes its place, is left out of
 *  a few frames, and only then loses a part.
 *  @param wordings  from all of the text to the least of it
 *  @param wanted  height of the letters, px
 *  @param fronts  what is to be kept clear in each frame */
export function placeText(
  wordings: readonly Wording[],
  wanted: number,
  fronts: readonly (readonly Obstacle[])[],
  rulesFor: (size: number) => LayoutRules,
  pen: TextPen,
): PlacedText {
  let last: PlacedText | null = null;
  for (const { leavesOut, settings } of wordings) {
    const measured = settings.map((lines): Setting => ({ lines, unit: sizeOf(lines, 1, pen) }));
    for (const factors of SMALLER)
      for (const mostPlaces of [1, MOST_PLACES])
        for (const size of sizesOf(wanted, factors))
          for (const { lines, unit } of measured) {
            const boxes = placeInFrames(times(unit, size), fronts, { ...rulesFor(size), mostPlaces });
            if (boxes) return { size, boxes, lines, leavesOut };
          }
    const most = mostlyPlaced(measured, Math.min(wanted, LEAST_SIZE), fronts, rulesFor);
    last = { ...most, leavesOut };
    if (most.absent <= MOST_ABSENT * fronts.length) return last;
  }
  if (!last) throw new RangeError("wordings must hold one at least, got none");
  return last;
}

/** In letters of one size, and in the frames that have room for it. */
function mostlyPlaced(
  settings: readonly Setting[],
  size: number,
  fronts: readonly (readonly Obstacle[])[],
  rulesFor: (size: number) => LayoutRules,
) {
  const tried = settings.map(({ lines, unit }) => {
    const boxes = placeWhereClear(times(unit, size), fronts, rulesFor(size));
    return { size, lines, boxes, absent: boxes.filter((box) => box === null).length };
  });
  return tried.reduce((best, one) => (one.absent < best.absent ? one : best));
}

function times({ width, height }: Pick<Box, "width" | "height">, size: number) {
  return { width: width * size, height: height * size };
}

function sizesOf(wanted: number, factors: readonly number[]): number[] {
  const least = Math.min(wanted, LEAST_SIZE);
  return [...new Set(factors.map((factor) => Math.max(least, factor * wanted)))];
}

/** Of the text in all frames. */
function sizeOf(lines: readonly Lines[], size: number, pen: TextPen): Pick<Box, "width" | "height"> {
  const texts = new Set(lines.flat());
  return {
    width: [...texts].reduce((most, text) => Math.max(most, pen.width(text, size)), 0),
    height: Math.max(...lines.map(({ length }) => length)) * LINE_HEIGHT * size,
  };
}
