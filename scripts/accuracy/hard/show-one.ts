import { measureTake } from "@frontpace/take";
import sharp, { type Sharp } from "sharp";
import { optionsOf } from "../options-of.js";
import { drawHard, trueSpeed } from "./draw-hard.js";
import { framesOf, type Pictures, renderScene } from "./render-scene.js";
import { tryHard } from "./try-hard.js";

/** Prints one take of the trials with everything that was measured from it.
 *  @param which  ITEM[+ITEM]:SEED, as a run with --misses names it
 *  @param streak  file for a PNG of position against frame, each frame averaged across the front's way */
export async function showOne(
  which: string,
  { still = false, streak }: { still?: boolean; streak?: string },
): Promise<void> {
  const [names, seedText] = which.split(":");
  const seed = Number(seedText);
  if (!Number.isInteger(seed)) throw new RangeError(`--one must be ITEM[+ITEM]:SEED, got ${which}`);
  const items = names.split("+").filter((name) => name !== "");
  const scene = drawHard(items, seed, still);
  const pictures = await renderScene(scene);
  if (streak !== undefined) await streakPicture(pictures).toFile(streak);
  const { result, track } = await measureTake({ frames: framesOf(scene, pictures) }, optionsOf(scene.take));
  const trial = await tryHard({ items, seed, still, beside: false });
  const { front, light: _, numbers: __, ...drawn } = scene.take;
  const used = track.filter(({ used }) => used);
  console.log(
    JSON.stringify(
      {
        drawn,
        front: Array.from(front, (position) => Number(position.toFixed(3))),
        trueSpeed: trueSpeed(scene, used.at(0)?.frame ?? 0, used.at(-1)?.frame ?? scene.stored.length - 1),
        trial,
        track: track.map(({ frame, positionPixels, standardUncertaintyPixels, residualPixels, used }) =>
          [frame, positionPixels, standardUncertaintyPixels, residualPixels, used].join(" "),
        ),
        result,
      },
      null,
      1,
    ),
  );
}

/** Position to the right, frames downwards, each frame's mean across the width, stretched from black to white. */
export function streakPicture({ data, across, along }: Pictures): Sharp {
  const means = data.map((samples) =>
    Float64Array.from({ length: along }, (_, p) => {
      let sum = 0;
      for (let r = 0; r < across; r++) sum += samples[r * along + p];
      return sum / across;
    }),
  );
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const profile of means)
    for (const mean of profile) {
      low = Math.min(low, mean);
      high = Math.max(high, mean);
    }
  const grey = Uint8Array.from(
    means.flatMap((profile) => Array.from(profile, (mean) => (255 * (mean - low)) / (high - low || 1))),
  );
  return sharp(grey, { raw: { width: along, height: data.length, channels: 1 } }).png();
}
