import { readTakeFile } from "./read-take-file.js";
import { TakeError } from "./take-error.js";
import { throttleProgress } from "./throttle-progress.js";
import type { MeasureContext, MeasureOptions, TakeFile, TakeFrames } from "./types.js";

const OPENING = ["frameStep", "skipBad", "transfer", "raw"] as const;

/** Options that say how a take is opened. */
export type OpeningOptions = Pick<MeasureOptions, (typeof OPENING)[number]>;

/** Works on the frames of a take, opened as the options and its take.json say, options winning, and closed again; an open
 *  sequence stays open and has no take.json.
 *  @throws TakeError, or the frame loader's error, each with a stable `code`; `signal.reason` when stopped */
export async function withTake<T>(
  take: string | { readonly frames: TakeFrames },
  options: OpeningOptions,
  { signal, onProgress }: MeasureContext,
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

  const file = await readTakeFile(take);
  const { frameStep, skipBad, transfer, raw } = { ...file, ...options };
  const { openFrames, parseRawLayout } = await import("@frontpace/frame-loader");
  const layout = raw === undefined ? null : parseRawLayout(raw);
  const frames = await openFrames(take, {
    ...(frameStep !== undefined && { frameStep }),
    ...(skipBad !== undefined && { skipBad }),
    ...(transfer !== undefined && { transfer }),
    ...(layout && { raw: layout }),
    ...(signal && { signal }),
    ...(onProgress && { onProgress: throttleProgress(onProgress) }),
  });
  try {
    return await work(frames, file);
  } finally {
    await frames.close();
  }
}
