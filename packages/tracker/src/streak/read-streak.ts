import type { FrameSource, Streak } from "../types.js";
import { Ceiling, isOfWholeNumbers } from "./ceiling.js";
import { EffectiveRows } from "./effective-rows.js";
import { meanOfStrips } from "./mean-of-strips.js";
import { type PassOptions, passOver, samplersOf } from "./pass-over.js";
import { roundingNoise } from "./rounding-noise.js";
import type { Band } from "./sampler.js";

/** A streak with the parts it was averaged from. */
export interface StripedStreak extends Streak {
  /** Numbers of the frames as stored, one for each of `frameNumbers`. */
  readonly storedNumbers: readonly number[];
  /** Streaks of equal parts of the width, from one side of the path to the other; each like `data`. */
  readonly strips: readonly Float64Array[];
  /** Distance of each strip's middle from the path, px, positive to the right hand of the path's direction in
   *  a picture whose rows run down: offset along (−dy, dx). */
  readonly stripOffsetsPixels: readonly number[];
  /** Samples averaged in each strip at each position; 0 where a part of the strip lies outside the picture: its
   *  middle would not be the strip's. `strips` is 0 there. */
  readonly stripCounts: readonly Float64Array[];
  /** Standard deviation that the rounding of stored samples alone gives to a sample of `data`; of floating
   *  point a believable least. */
  readonly roundingNoise: number;
  /** Largest sample read, and the shares of all samples that have it, and that are 0. */
  readonly ceiling: { readonly value: number; readonly share: number; readonly zeroShare: number };
}

/** Reads the streaks of one or more bands in a single pass over the frames `start` to `end` (indices, end
 *  exclusive).
 *  @throws RangeError with the code `samples-not-finite` on a sample that is not a finite number; the signal's reason when aborted */
export async function readStreaks(
  source: FrameSource,
  bands: readonly Band[],
  start: number,
  end: number,
  options: PassOptions = {},
): Promise<StripedStreak[]> {
  const samplers = samplersOf(source, bands, options.acrossPixels);
  const frames = end - start;
  const strips = samplers.map(({ offsets, positions }) =>
    offsets.map(() => new Float64Array(frames * positions)),
  );
  const ceilings = samplers.map(() => new Ceiling());
  const effectiveRows = samplers.map(({ width, positions }) => new EffectiveRows(width, positions));
  const pixels = samplers.map(({ width, positions }) => new Float32Array(width * positions));
  let isWhole = true;
  const frameNumbers = await passOver(
    source,
    samplers,
    [start, end],
    options.acrossPixels ? "reading again" : "reading",
    {
      addFrame(k, picture, frame, across) {
        isWhole &&= isOfWholeNumbers(picture.data);
        samplers[k].sample(picture, strips[k], frame, across);
        ceilings[k].addFrame(picture);
        if (!effectiveRows[k].isOpen) return;
        samplers[k].pixels(picture, pixels[k], across);
        effectiveRows[k].addFrame(pixels[k]);
      },
      endFrame(frame, number) {
        if (isWhole) return;
        if (!samplers.every(({ positions }, k) => areFinite(strips[k], frame * positions, positions)))
          throw Object.assign(
            new RangeError(`frame ${number} must hold finite samples along the path, got NaN or infinity`),
            { code: "samples-not-finite" },
          );
      },
    },
    options,
  );
  const { timeFrames } = source;
  const times = timeFrames ? frameNumbers.map((number) => timeFrames(number)) : frameNumbers;
  return samplers.map(({ positions, path, width, offsets, counts }, k) => {
    const data = meanOfStrips(strips[k], counts);
    const stripCounts = clearIncomplete(strips[k], counts);
    return {
      data,
      shape: [frames, positions] as const,
      frameNumbers: times,
      storedNumbers: frameNumbers,
      path,
      width,
      effectiveRows: effectiveRows[k].count(),
      strips: strips[k],
      stripOffsetsPixels: offsets,
      stripCounts,
      roundingNoise: roundingNoise(source, width, data),
      ceiling: {
        value: ceilings[k].value,
        share: ceilings[k].share,
        zeroShare: ceilings[k].zeroShare,
      },
    };
  });
}

function areFinite(strips: readonly Float64Array[], from: number, positions: number): boolean {
  for (const strip of strips)
    for (let at = from; at < from + positions; at++) if (!Number.isFinite(strip[at])) return false;
  return true;
}

/** Clears the strips where they are not whole.
 *  @returns the counts, 0 there */
function clearIncomplete(strips: readonly Float64Array[], counts: readonly Float64Array[]): Float64Array[] {
  return counts.map((count, k) => {
    const whole = count.reduce((most, value) => Math.max(most, value), 0);
    if (count.every((value) => value === whole)) return count;
    const kept = count.map((value) => (value === whole ? value : 0));
    const strip = strips[k];
    for (let at = 0, p = 0; at < strip.length; at++, p = p + 1 === kept.length ? 0 : p + 1)
      if (kept[p] === 0) strip[at] = 0;
    return kept;
  });
}
