import { lightRatio } from "./change-picture.js";
import type { CrackSource } from "./types.js";

/** Frames that are compared, at most, and pixels of each, about. */
const MOST_FRAMES = 8;
const PIXELS = 10_000;
/** Of the pairs the one in this place, for the more frames are copies the fewer differ. */
const QUANTILE = 0.75;
/** Standard deviation of a normal distribution over the mean of its absolute values. */
const TO_DEVIATION = Math.sqrt(Math.PI / 2);

/** Standard deviation of the noise of a pixel in one frame, unit of the samples: by the differences between neighbouring ones of the first frames, the light of each
 *  divided out. Means of absolute values, for a median of differences of small whole numbers is no measure.
 *  @param range  places of frames in the sequence, end exclusive */
export async function pixelNoise(
  source: CrackSource,
  { start, end }: { readonly start: number; readonly end: number },
  signal?: AbortSignal,
): Promise<number> {
  const { rows, columns } = source;
  const step = Math.max(1, Math.floor((rows * columns) / PIXELS));
  const places = Array.from({ length: Math.ceil((rows * columns) / step) }, (_, k) => k * step);
  const few = { start, end: Math.min(end, start + MOST_FRAMES) };
  const deviations: number[] = [];
  let previous: readonly number[] | null = null;
  for await (const { frame } of source.frames(few, undefined, signal ? { signal } : {})) {
    signal?.throwIfAborted();
    const { data, offset, stride } = frame;
    const values = places.map(
      (at) => data[offset + Math.floor(at / columns) * stride[0] + (at % columns) * stride[1]],
    );
    if (previous) deviations.push(deviationBetween(previous, values));
    previous = values;
  }
  return deviations.sort((a, b) => a - b)[Math.round(QUANTILE * (deviations.length - 1))] ?? 0;
}

function deviationBetween(before: readonly number[], after: readonly number[]): number {
  const light = lightRatio(before, after);
  const sum = before.reduce((total, value, k) => total + Math.abs(after[k] / light - value), 0);
  return (TO_DEVIATION * sum) / before.length / Math.SQRT2;
}
