import { median } from "@frontpace/fit";
import { smoothed } from "./smoothed.js";
import type { ChangePicture, CrackSource } from "./types.js";

/** Frames averaged at either end, at most, and the share of the take that they may be. */
const MOST_FRAMES = 8;
const LARGEST_SHARE = 0.15;
/** The very last of them, one in so many, tell what is still there. */
const STILL_THERE = 4;
/** What lasts has this part of its change left in these. */
const LASTING = 0.5;
/** Standard deviation of a normal distribution over the median of its absolute values. */
const TO_DEVIATION = 1.4826;

/** What the last frames show that the first do not, over its noise. The light of the whole picture is divided out by the median of
 *  the ratios, for thin lines cover little of it.
 *  @param range  places of frames in the sequence, end exclusive
 *  @throws the signal's reason when aborted */
export async function changePicture(
  source: CrackSource,
  { start, end }: { readonly start: number; readonly end: number },
  signal?: AbortSignal,
): Promise<ChangePicture> {
  const { rows, columns } = source;
  const count = Math.max(1, Math.min(MOST_FRAMES, Math.floor((end - start) * LARGEST_SHARE)));
  const before = await meanOf(source, { start, end: start + count }, signal);
  const after = await meanOf(source, { start: end - count, end }, signal);
  const light = lightRatio(before, after);
  const raw = changeOf(before, after, light);
  const change = smoothed(raw, rows, columns);
  const noise = TO_DEVIATION * median(change.map(Math.abs));
  const significance = noise > 0 ? change.map((value) => value / noise) : change;
  const from = end - Math.ceil(count / STILL_THERE);
  const latest = await meanOf(source, { start: from, end }, signal);
  const rawLatest = changeOf(before, latest, lightRatio(before, latest));
  const left = smoothed(rawLatest, rows, columns);
  const lasts = Uint8Array.from(change, (value, k) =>
    left[k] * Math.sign(value) > LASTING * Math.abs(value) ? 1 : 0,
  );
  return { rows, columns, significance, lasts, light, change: raw, latestChange: rawLatest, last: after };
}

/** Change between two mean pictures, the light of the later one divided out. */
function changeOf(before: Float64Array, after: Float64Array, light: number): Float64Array {
  return before.map((value, k) => after[k] / light - value);
}

async function meanOf(
  source: CrackSource,
  range: { readonly start: number; readonly end: number },
  signal: AbortSignal | undefined,
): Promise<Float64Array> {
  const { rows, columns } = source;
  const sum = new Float64Array(rows * columns);
  let frames = 0;
  for await (const { frame } of source.frames(range, undefined, signal ? { signal } : {})) {
    signal?.throwIfAborted();
    const { data, offset, stride } = frame;
    for (let r = 0, k = 0; r < rows; r++)
      for (let c = 0, at = offset + r * stride[0]; c < columns; c++, at += stride[1]) sum[k++] += data[at];
    frames++;
  }
  return sum.map((value) => value / frames);
}

/** Median ratio of the brightness of a later picture to that of an earlier one. */
export function lightRatio(before: ArrayLike<number>, after: ArrayLike<number>): number {
  const ratios: number[] = [];
  const step = Math.max(1, Math.floor(before.length / 10_000));
  for (let k = 0; k < before.length; k += step)
    if (before[k] > 0 && after[k] > 0) ratios.push(after[k] / before[k]);
  return ratios.length > 0 ? median(ratios) : 1;
}
