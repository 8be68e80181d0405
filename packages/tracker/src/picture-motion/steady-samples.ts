import { profileReach } from "../model/edge-profile.js";
import { smearOf } from "../model/joint-fit.js";
import { positionAt } from "../model/passage.js";
import type { Found } from "../one-front/follow-divided.js";
import type { StripedStreak } from "../streak/read-streak.js";
import type { SamplesOfFrames } from "./picture-shift.js";

/** Kept clear of the front beyond its own reach, px: light that runs ahead of it, and a path not yet well known. */
const MARGIN_PIXELS = 3;

/** Samples of every frame that show texture and no front. */
export interface SteadySamples {
  /** Not yet reached by the front; all of them where there is no front. */
  readonly ahead: SamplesOfFrames;
  /** Left behind by it; none where there is no front. */
  readonly behind: SamplesOfFrames;
}

/** Samples of every frame that show texture, ahead of all fronts and behind them.
 *  @param fronts  in `followed`
 *  @param shiftPixels  of the picture in each frame that `frames` counts, from which `followed` is steadied */
export function steadySamples(
  fronts: readonly Found[],
  followed: Pick<StripedStreak, "frameNumbers" | "width">,
  read: Pick<StripedStreak, "frameNumbers" | "shape">,
  firstPosition = 0,
  shiftPixels?: Float64Array,
): SteadySamples {
  const positions = read.shape[1];
  const sides = fronts.flatMap(({ front, kept, tangent }) => {
    if (!front) return [];
    const { motion, state } = front;
    // A tilted front is followed in strips of their own, so its state is off by a constant.
    const departures = kept.map(
      (frame, k) => state.frontPixels[k] - positionAt(motion, followed.frameNumbers[frame]),
    );
    const mean = departures.reduce((sum, value) => sum + value, 0) / departures.length;
    const departure = departures.reduce((most, value) => Math.max(most, Math.abs(value - mean)), 0);
    const tilted = (followed.width * Math.abs(tangent)) / 2;
    const clear = profileReach(motion.blurPixels, smearOf(motion)) + departure + tilted + MARGIN_PIXELS;
    return [{ motion, clear }];
  });
  const samples = read.frameNumbers.map((number, i) => {
    const shift = shiftPixels && !Number.isNaN(shiftPixels[i]) ? shiftPixels[i] : 0;
    let ahead: readonly [number, number] = [0, positions];
    let behind: readonly [number, number] = sides.length > 0 ? [0, positions] : [0, 0];
    for (const { motion, clear } of sides) {
      const at = positionAt(motion, number) + firstPosition + shift;
      const below = [0, Math.floor(at - clear) + 1] as const;
      const above = [Math.ceil(at + clear), positions] as const;
      ahead = common(ahead, motion.sense > 0 ? above : below);
      behind = common(behind, motion.sense > 0 ? below : above);
    }
    return { ahead, behind };
  });
  return { ahead: samples.map(({ ahead }) => ahead), behind: samples.map(({ behind }) => behind) };
}

function common(a: readonly [number, number], b: readonly [number, number]): readonly [number, number] {
  const from = Math.max(a[0], b[0]);
  return [from, Math.max(from, Math.min(a[1], b[1]))];
}
