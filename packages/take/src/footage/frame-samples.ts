import type { TakeFrames } from "../types.js";

/** The whole picture of one frame after the other.
 *  @param start  index of the first; `end` of the one behind the last
 *  @yields row-major, shape (rows · columns,) each */
export async function* eachPicture(
  frames: TakeFrames,
  start: number,
  end: number,
  signal: AbortSignal | undefined,
): AsyncGenerator<{ readonly number: number; readonly data: Float64Array }> {
  for await (const { number, frame } of frames.frames({ start, end }, undefined, signal ? { signal } : {})) {
    const [rows, columns] = frame.shape;
    const data = new Float64Array(rows * columns);
    for (let y = 0, at = 0; y < rows; y++) for (let x = 0; x < columns; x++, at++) data[at] = frame.get(y, x);
    yield { number, data };
    signal?.throwIfAborted();
  }
}

/** The same, all at once. */
export async function frameSamples(
  frames: TakeFrames,
  start: number,
  end: number,
  signal: AbortSignal | undefined,
): Promise<Float64Array[]> {
  const pictures: Float64Array[] = [];
  for await (const { data } of eachPicture(frames, start, end, signal)) pictures.push(data);
  return pictures;
}

/** Mean of pictures of one size. */
export function meanPicture(pictures: readonly Float64Array[]): Float64Array {
  const mean = new Float64Array(pictures[0].length);
  for (const picture of pictures)
    for (let at = 0; at < mean.length; at++) mean[at] += picture[at] / pictures.length;
  return mean;
}
