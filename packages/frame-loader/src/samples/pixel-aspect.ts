import type { FrameWarning } from "../types.js";

/** The warning of a file whose pixels are not square; none where they are, or where nothing is stated (0:0, 0:1).
 *  @param stated  width to height of a pixel, as "8:5" */
export function pixelAspect(name: string, stated = ""): FrameWarning[] {
  const [width, height] = stated.split(":").map(Number);
  if (!(width > 0 && height > 0) || width === height) return [];
  const message = `${name} states that its pixels are ${width}:${height} (width to height), not square. Frames are used as they are stored, so that a pixel along the rows and one along the columns are other lengths: give the scale of stored pixels in the direction of the path, or export square pixels`;
  return [{ code: "pixel-aspect", message }];
}
