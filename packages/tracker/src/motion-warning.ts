import type { PictureMotion } from "./find-steadied.js";
import { frameRanges } from "./frame-ranges.js";
import type { TrackWarning } from "./types.js";

/** What is said of a picture that moves: how far, in which frames, and what was done. */
export function motionWarning({
  shift,
  kept,
  acrossPixels,
  asRead: { storedNumbers },
}: PictureMotion): TrackWarning[] {
  const across = acrossPixels
    ? `by ${(Math.max(...acrossPixels) - Math.min(...acrossPixels)).toFixed(1)} px across the path, and the band was read where it lies in each frame`
    : "";
  if (!shift || !kept) {
    if (!across) return [];
    return [
      {
        code: "picture-moved",
        message: `the picture moves ${across}: pane or camera. No shift along the path was subtracted`,
      },
    ];
  }
  const { shiftPixels, standardUncertaintyPixels } = shift;
  const lowest = kept.reduce((least, i) => Math.min(least, shiftPixels[i]), Number.POSITIVE_INFINITY);
  const highest = kept.reduce((most, i) => Math.max(most, shiftPixels[i]), Number.NEGATIVE_INFINITY);
  const known = new Set(kept);
  const lost = storedNumbers.filter((_, i) => !known.has(i));
  const moved = kept.filter((i) => Math.abs(shiftPixels[i]) > 3 * standardUncertaintyPixels[i]);
  const sure = Math.max(...kept.map((i) => standardUncertaintyPixels[i]));
  const also = across && `. It moves ${across}`;
  const said = `the picture moves by ${(highest - lowest).toFixed(1)} px along the path, most in frames ${frameRanges(moved.map((i) => storedNumbers[i]))}: pane or camera. That shift was told from the texture ahead of the front, to ${sure.toFixed(2)} px or better in each frame, and subtracted; positions are those on the picture in its middle place${also}`;
  const left =
    lost.length > 0
      ? `. Frames ${frameRanges(lost)} show too little undisturbed texture to tell their shift: not used`
      : "";
  return [{ code: "picture-moved", message: said + left }];
}
