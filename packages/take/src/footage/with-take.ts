import { TakeError } from "../take-error.js";
import type { MeasureContext, TakeFile, TakeFrames } from "../types.js";
import { type OpeningOptions, openTake } from "./open-take.js";

const OPENING = [
  "frameStep",
  "skipBad",
  "transfer",
  "raw",
] as const satisfies readonly (keyof OpeningOptions)[];

/** Works on the frames of a take, opened as the options and its take.json say, options winning, and closed again; an open
 *  sequence stays open and has no take.json.
 *  @throws TakeError, or the frame loader's error, each with a stable `code`; `signal.reason` when stopped */
export async function withTake<T>(
  take: string | { readonly frames: TakeFrames },
  options: OpeningOptions,
  context: MeasureContext,
  work: (frames: TakeFrames, file: TakeFile | null) => Promise<T>,
): Promise<T> {
  if (typeof take !== "string") {
    for (const key of OPENING) {
      const value = options[key];
      if (value === undefined) continue;
      const message = `${key} applies where a folder or a file is opened, and this sequence is open already: open it with ${key}, got ${value}`;
      throw new TakeError("invalid-value", message, { key, value });
    }
    return work(take.frames, null);
  }

  const { frames, file } = await openTake(take, options, context);
  try {
    return await work(frames, file);
  } finally {
    await frames.close();
  }
}
