import type { PictureMotion } from "../find/find-steadied.js";
import { frameRanges } from "../timing/frame-ranges.js";
import type { TrackWarning } from "../types.js";

/** What is said of a picture that moves: how far, in which frames, and what was done. */
export function motionWarning(motion: PictureMotion): TrackWarning[] {
  const said = [...along(motion), ...across(motion)];
  if (said.length === 0) return [];
  return [{ code: "picture-moved", message: `the picture moves, pane or camera. ${said.join(". ")}` }];
}

function across({ acrossPixels }: PictureMotion): string[] {
  if (!acrossPixels) return [];
  const far = Math.max(...acrossPixels) - Math.min(...acrossPixels);
  return [`By ${far.toFixed(1)} px across the path; each frame was read where the band lies in it`];
}

function along({ shift, kept, isLeft, asRead: { storedNumbers } }: PictureMotion): string[] {
  if (!shift || !(kept || isLeft)) return [];
  const { shiftPixels, standardUncertaintyPixels } = shift;
  const told = kept ?? Array.from(shiftPixels.keys()).filter((i) => !Number.isNaN(shiftPixels[i]));
  const lowest = told.reduce((least, i) => Math.min(least, shiftPixels[i]), Number.POSITIVE_INFINITY);
  const highest = told.reduce((most, i) => Math.max(most, shiftPixels[i]), Number.NEGATIVE_INFINITY);
  const far = (highest - lowest).toFixed(1);
  if (!kept)
    return [
      `By ${far} px along the path in frames ${frameRanges(told.map((i) => storedNumbers[i]))}. Too few others show undisturbed texture to tell how far: nothing was subtracted, and the shifts are in the positions of the front`,
    ];
  const known = new Set(kept);
  const lost = storedNumbers.filter((_, i) => !known.has(i));
  const moved = kept.filter((i) => Math.abs(shiftPixels[i]) > 3 * standardUncertaintyPixels[i]);
  const sure = Math.max(...kept.map((i) => standardUncertaintyPixels[i]));
  return [
    `By ${far} px along the path, most in frames ${frameRanges(moved.map((i) => storedNumbers[i]))}. That shift was told from undisturbed texture, to ${sure.toFixed(2)} px or better in each frame, and subtracted; positions are those on the picture in its middle place`,
    ...(lost.length > 0
      ? [`Frames ${frameRanges(lost)} show too little of it to tell their shift: not used`]
      : []),
  ];
}
