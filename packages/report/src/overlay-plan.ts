import { type Box, clearanceOfFront } from "./clearance.js";
import { ringRadius } from "./front-outline.js";
import type { OverlayInput, OverlayNote } from "./overlay-input.js";
import {
  type LayoutRules,
  LINE_HEIGHT,
  type Obstacle,
  placeInFrames,
  placeWhereClear,
} from "./overlay-layout.js";
import { aroundBox, numbersBeside, type PlacedNumber } from "./overlay-numbers.js";
import { type Lines, overlayWords, type Wording } from "./overlay-words.js";
import { type ScaleBar, scaleBars } from "./scale-bar.js";
import type { TextPen } from "./text-pen.js";
import type { ReportedFrontPlace } from "./words/reported-result.js";

/** Where everything stands in one frame, px of the picture that is drawn. */
export interface PlannedFrame {
  readonly number: number;
  readonly marks: readonly { readonly place: ReportedFrontPlace; readonly isDashed: boolean }[];
  readonly text: { readonly box: Box; readonly lines: Lines } | null;
  readonly bar: { readonly box: Box; readonly bar: ScaleBar } | null;
  readonly numbers: readonly PlacedNumber[];
}

export interface OverlayPlan {
  readonly width: number;
  readonly height: number;
  readonly textSize: number;
  /** Of the front, px. */
  readonly lineWidth: number;
  readonly frames: readonly PlannedFrame[];
  readonly notes: readonly OverlayNote[];
}

/** Below this letters cannot be read, px; common practice, no source. */
const LEAST_SIZE = 7;
/** Text may become so much smaller before it moves, and so much before a part of it is left out. */
const SMALLER = [
  [1, 0.85, 0.7],
  [0.6, 0.5],
];
const MOST_PLACES = 3;
/** Share of frames without text, where the front leaves no room, before a part of the text is left out for all. */
const MOST_ABSENT = 0.15;

/** Decides where text, scale bar and numbers stand: never on the front, in one place for the whole event if there is one. */
export function planOverlay(input: OverlayInput, pen: TextPen): OverlayPlan {
  const { result, frames, scale } = input;
  const [width, height] = [result.take.columns * scale, result.take.rows * scale];
  const wanted = input.textSize ?? Math.min(40, Math.max(9, Math.sqrt(width * height) / 22));
  const lineWidth = Math.max(1, Math.min(4, Math.sqrt(width * height) / 220));
  const ring = ringRadius({ rows: height, columns: width });
  const placed = frames.map(({ fronts }) =>
    fronts.map(({ place, isFitted }) => ({ place: enlarged(place, scale), isDashed: isFitted })),
  );
  const trail = trailOf(
    placed.flatMap((marks) => marks.map(({ place }) => place)),
    ring,
  );
  const fronts = placed.map((marks) => [
    ...trail,
    ...marks.map(
      ({ place }): Obstacle =>
        (box) =>
          clearanceOfFront(box, place, ring),
    ),
  ]);
  const rulesFor = (size: number): LayoutRules => ({
    width,
    height,
    margin: Math.max(1, Math.min(0.4 * size, height / 16)),
    gap: Math.max(2, 0.35 * size) + 1.2 * lineWidth,
    mostPlaces: MOST_PLACES,
  });
  const text = placeText(overlayWords(result, frames), wanted, fronts, rulesFor, pen);
  const beside = fronts.map((some, k) => [...some, ...aroundBox(text.boxes[k])]);
  const bar = placeBar(scaleBars(result.take), scale, text.size, beside, rulesFor(text.size), pen);
  return {
    width,
    height,
    textSize: text.size,
    lineWidth,
    frames: frames.map(({ number }, k) => {
      const box = text.boxes[k];
      const barBox = bar?.boxes[k];
      return {
        number,
        marks: placed[k],
        text: box && { box, lines: text.lines[k] },
        bar: bar && barBox ? { box: barBox, bar: bar.bar } : null,
        numbers: numbersBeside(
          placed[k].map(({ place }) => place),
          [...beside[k].slice(trail.length), ...aroundBox(barBox ?? null)],
          text.size,
          ring,
          rulesFor(text.size),
          pen,
        ),
      };
    }),
    notes: notesOn(input, text, wanted, bar !== null),
  };
}

interface PlacedText {
  readonly size: number;
  readonly boxes: readonly (Box | null)[];
  readonly lines: readonly Lines[];
  readonly leavesOut: readonly string[];
}

/** A way of setting the text, and how large it is in letters 1 px high, px. */
interface Setting {
  readonly lines: readonly Lines[];
  readonly unit: Pick<Box, "width" | "height">;
}

function placeText(
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

function placeBar(
  bars: readonly ScaleBar[],
  scale: number,
  size: number,
  obstacles: readonly (readonly Obstacle[])[],
  rules: LayoutRules,
  pen: TextPen,
): { readonly bar: ScaleBar; readonly boxes: readonly Box[] } | null {
  for (const mostPlaces of [1, MOST_PLACES])
    for (const bar of bars) {
      const box = {
        width: Math.max(bar.pixels * scale, pen.width(bar.text, size)),
        height: (LINE_HEIGHT + 0.5) * size,
      };
      const boxes = placeInFrames(box, obstacles, { ...rules, mostPlaces });
      if (boxes) return { bar, boxes };
    }
  return null;
}

/** The way of tips, which a crack leaves in the picture: kept clear in all frames.
 *  @returns none where there are no tips */
function trailOf(places: readonly ReportedFrontPlace[], ring: number): Obstacle[] {
  const tips = places.filter(({ kind }) => kind === "tip");
  if (tips.length === 0) return [];
  // Asked for the same boxes in every frame.
  const known = new WeakMap<Box, number>();
  return [
    (box) => {
      const distance = known.get(box) ?? Math.min(...tips.map((tip) => clearanceOfFront(box, tip, ring)));
      known.set(box, distance);
      return distance;
    },
  ];
}

/** px of the enlarged picture: whole numbers of the footage are centres of its pixels. */
function enlarged(
  { points, centre, radius, ...rest }: ReportedFrontPlace,
  scale: number,
): ReportedFrontPlace {
  const moved = ([x, y]: readonly [number, number]) => [(x + 0.5) * scale, (y + 0.5) * scale] as const;
  return {
    ...rest,
    ...(points && { points: points.map(moved) }),
    ...(centre && { centre: moved(centre) }),
    ...(radius !== undefined && { radius: radius * scale }),
  };
}

function notesOn(
  { textSize, frames }: OverlayInput,
  { size, boxes, leavesOut }: PlacedText,
  wanted: number,
  hasBar: boolean,
): OverlayNote[] {
  const notes: OverlayNote[] = [];
  if (textSize !== undefined && size < wanted)
    notes.push({
      code: "text-smaller",
      message: `the text is ${short(size)} px high, not ${short(wanted)}: larger it would cover the front or not fit into the picture`,
    });
  const moves = frames
    .filter((_, k) => k > 0 && boxes[k] && boxes[k - 1] && boxes[k] !== boxes[k - 1])
    .map(({ number }) => number);
  if (moves.length > 0)
    notes.push({
      code: "text-moves",
      message: `the text changes its place in frame ${moves.join(", ")}: no place is clear of the front in all frames`,
    });
  const absent = frames.filter((_, k) => boxes[k] === null).map(({ number }) => number);
  const missing = [...leavesOut, ...(hasBar ? [] : ["the scale bar"])];
  if (absent.length === frames.length) missing.unshift("the speed");
  if (missing.length > 0)
    notes.push({
      code: "left-out",
      message: `there is no room clear of the front for ${missing.join(", ")}: left out; a larger picture has more room`,
    });
  if (absent.length > 0 && absent.length < frames.length)
    notes.push({
      code: "text-absent",
      message: `there is no text in ${absent.length} of ${frames.length} frames, from ${absent[0]} to ${absent[absent.length - 1]}: it would cover the front`,
    });
  return notes;
}

function short(value: number): string {
  return String(Number(value.toFixed(1)));
}
