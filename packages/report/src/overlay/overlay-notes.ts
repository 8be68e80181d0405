import type { OverlayInput, OverlayNote } from "./overlay-input.js";
import type { PlacedText } from "./overlay-text.js";

/** What of an overlay is not as a reader expects it.
 *  @param wanted  height of the letters that was wanted, px */
export function overlayNotes(
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
