import { layOutStreak } from "./streak-layout.js";
import { checkStreakPicture, type StreakPicture } from "./streak-picture.js";
import { rasteriseStreak } from "./streak-raster.js";

/** The samples of a streak alone, without axes, line or points: what a page draws these on. It reaches half a sample beyond the first and the last
 *  one; the largest position is at the top.
 *  @returns a PNG file, 8-bit RGB
 *  @throws RangeError where shape and frame numbers do not fit together */
export async function drawStreakSamples(picture: StreakPicture): Promise<Uint8Array> {
  checkStreakPicture(picture);
  const { default: sharp } = await import("sharp");
  const layout = layOutStreak(picture);
  const { rgb } = rasteriseStreak(picture, layout);
  const raw = { width: layout.plotWidth, height: layout.plotHeight, channels: 3 as const };
  return new Uint8Array(await sharp(rgb, { raw }).png().toBuffer());
}
