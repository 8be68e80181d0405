import { drawAxis } from "./axis.js";
import { chooseUnit } from "./choose-unit.js";
import type { TextPen } from "./text-pen.js";

/** Beyond this ratio of reading to span, time is counted from the first frame shown: the numbers get too long. */
const LONGEST_TIME_RATIO = 1e4;

/** Draws the axis of time above a panel whose lower axis counts frames.
 *  @param frames  frame numbers at the ends, first < last
 *  @param range  pixels of the ends
 *  @param at  pixel of the panel's upper edge
 *  @param rateHz  frames per second, > 0 */
export function drawTimeAxis(
  {
    frames: [first, last],
    range,
    at,
    rateHz,
  }: {
    readonly frames: readonly [number, number];
    readonly range: readonly [number, number];
    readonly at: number;
    readonly rateHz: number;
  },
  pen: TextPen,
): string {
  const unit = chooseUnit((last - first) / rateHz, "s");
  const origin = timeOrigin(first, last);
  const domain = [(first - origin) / rateHz / unit.size, (last - origin) / rateHz / unit.size] as const;
  const label = `time since frame ${origin}, ${unit.name}`;
  return drawAxis({ side: "top", domain, range, at, label, labelDistance: 32 }, pen);
}

/** Number of the frame from which time is counted in a picture of these frames. */
export function timeOrigin(first: number, last: number): number {
  const long = Math.max(Math.abs(first), Math.abs(last)) / (last - first) > LONGEST_TIME_RATIO;
  return long ? Math.ceil(first) : 0;
}
