import type { TextPen } from "../drawing/text-pen.js";
import type { ReportedFrontPlace } from "../words/reported-result.js";
import { type Box, clearanceOfFront } from "./clearance.js";
import { ringRadius } from "./front-outline.js";
import type { OverlayInput, OverlayNote } from "./overlay-input.js";
import {
  type LayoutRules,
  LINE_HEIGHT,
  MOST_PLACES,
  type Obstacle,
  placeInFrames,
} from "./overlay-layout.js";
import { overlayNotes } from "./overlay-notes.js";
import { aroundBox, numbersBeside, type PlacedNumber } from "./overlay-numbers.js";
import { type PlacedText, placeText } from "./overlay-text.js";
import { type Lines, overlayWords } from "./overlay-words.js";
import { type ScaleBar, scaleBars } from "./scale-bar.js";

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

/** Decides where text, scale bar and numbers stand: never on the front, in one place for the whole event if there is one. A straight front is known as
 *  far as it was averaged, and most run on beyond: that is kept clear, too, as long as nothing has to be left out for it. */
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
  const fronts = placed.map((marks) => marks.map(({ place }) => aroundFront(place, ring)));
  const longFronts = placed.map((marks) =>
    marks.map(({ place }) => aroundFront(prolonged(place, width + height), ring)),
  );
  const rulesFor = (size: number): LayoutRules => ({
    width,
    height,
    margin: Math.max(1, Math.min(0.4 * size, height / 16)),
    gap: Math.max(2, 0.35 * size) + 1.2 * lineWidth,
    mostPlaces: MOST_PLACES,
  });
  const wordings = overlayWords(result, frames);
  const arranged = (fronts: readonly (readonly Obstacle[])[]) => {
    const around = fronts.map((some) => [...trail, ...some]);
    const text = placeText(wordings, wanted, around, rulesFor, pen);
    const beside = around.map((some, k) => [...some, ...aroundBox(text.boxes[k])]);
    const bar = placeBar(scaleBars(result.take), scale, text.size, beside, rulesFor(text.size), pen);
    return { text, bar };
  };
  const clear = arranged(longFronts);
  const { text, bar } = clear.bar && isWhole(clear.text) ? clear : arranged(fronts);
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
          [...fronts[k], ...aroundBox(box), ...aroundBox(barBox ?? null)],
          text.size,
          ring,
          rulesFor(text.size),
          pen,
        ),
      };
    }),
    notes: overlayNotes(input, text, wanted, bar !== null),
  };
}

function aroundFront(place: ReportedFrontPlace, ring: number): Obstacle {
  return (box) => clearanceOfFront(box, place, ring);
}

/** A straight front that is longer by so many px at either end; others, a line of many points too, are whole. */
function prolonged({ kind, points, ...rest }: ReportedFrontPlace, pixels: number): ReportedFrontPlace {
  if (kind !== "line" || points?.length !== 2) return { kind, ...(points && { points }), ...rest };
  const [[x1, y1], [x2, y2]] = points;
  const share = pixels / Math.max(1e-9, Math.hypot(x2 - x1, y2 - y1));
  const [dx, dy] = [share * (x2 - x1), share * (y2 - y1)];
  return {
    ...rest,
    kind,
    points: [
      [x1 - dx, y1 - dy],
      [x2 + dx, y2 + dy],
    ],
  };
}

/** Whether all of the text stands in all frames. */
function isWhole({ leavesOut, boxes }: PlacedText): boolean {
  return leavesOut.length === 0 && boxes.every((box) => box !== null);
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
