import type { TextPen } from "../drawing/text-pen.js";
import type { ReportedFrontPlace } from "../words/reported-result.js";
import { type Box, clearanceOfBox } from "./clearance.js";
import { type LayoutRules, LINE_HEIGHT, type Obstacle } from "./overlay-layout.js";

/** The number of a front, and where it stands. */
export interface PlacedNumber {
  readonly box: Box;
  readonly text: string;
}

/** Numbers beside fronts, each on the first side that is clear; none where there is no such side. */
export function numbersBeside(
  places: readonly ReportedFrontPlace[],
  obstacles: readonly Obstacle[],
  size: number,
  ring: number,
  { width, height, gap }: LayoutRules,
  pen: TextPen,
): readonly PlacedNumber[] {
  const numbers: PlacedNumber[] = [];
  for (const { number, points, centre, radius = 0 } of places) {
    const at = points?.[0] ?? (centre && ([centre[0], centre[1] - radius] as const));
    if (number === undefined || !at) continue;
    const text = String(number);
    const box = { width: pen.width(text, size), height: LINE_HEIGHT * size };
    const [x, y] = [
      Math.min(width - 1, Math.max(0, at[0])),
      Math.min(height - box.height, Math.max(box.height, at[1])),
    ];
    const aside = ring + gap + 1;
    const sides = [
      [x + aside, y - box.height],
      [x - aside - box.width, y - box.height],
      [x + aside, y],
      [x - aside - box.width, y],
    ].map(([left, top]): Box => ({ left, top, ...box }));
    const others = [...obstacles, ...numbers.flatMap((one) => aroundBox(one.box))];
    const clear = sides.find(
      (side) =>
        side.left >= 0 &&
        side.top >= 0 &&
        side.left + side.width <= width &&
        side.top + side.height <= height &&
        others.every((distance) => distance(side) >= 1),
    );
    if (clear) numbers.push({ box: clear, text });
  }
  return numbers;
}

/** What keeps others off a box, where there is one. */
export function aroundBox(box: Box | null): Obstacle[] {
  return box ? [(other) => clearanceOfBox(box, other)] : [];
}
