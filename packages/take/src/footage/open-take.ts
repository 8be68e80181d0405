import { availableParallelism, totalmem } from "node:os";
import type { FrameSequence } from "@frontpace/frame-loader";
import { readTakeFile } from "../files/read-take-file.js";
import type { MeasureContext, MeasureOptions, TakeFile } from "../types.js";
import { throttleProgress } from "./throttle-progress.js";

/** What decoded pictures may take at most, and of each processor's share of the memory, as a batch measures with all of them. */
const MOST_KEPT = 2 ** 29;
const SHARE_KEPT = 1 / 8;

/** Options that say how a take is opened. */
export type OpeningOptions = Pick<MeasureOptions, "frameStep" | "skipBad" | "transfer" | "raw">;

/** Opens a folder of stills or a file of frames as the options and its take.json say, options winning.
 *  @returns the open sequence, to be closed, and the take.json or null
 *  @throws TakeError, or the frame loader's error, each with a stable `code`; `signal.reason` when stopped */
export async function openTake(
  take: string,
  options: OpeningOptions,
  { signal, onProgress }: MeasureContext,
): Promise<{ readonly frames: FrameSequence; readonly file: TakeFile | null }> {
  const file = await readTakeFile(take);
  const { frameStep, skipBad, transfer, raw } = { ...file, ...options };
  const { openFrames, parseRawLayout } = await import("@frontpace/frame-loader");
  const layout = raw === undefined ? null : parseRawLayout(raw);
  const frames = await openFrames(take, {
    ...(frameStep !== undefined && { frameStep }),
    ...(skipBad !== undefined && { skipBad }),
    ...(transfer !== undefined && { transfer }),
    ...(layout && { raw: layout }),
    keptBytes: keptBytes(),
    ...(signal && { signal }),
    ...(onProgress && { onProgress: throttleProgress(onProgress) }),
  });
  return { frames, file };
}

function keptBytes(): number {
  return Math.min(MOST_KEPT, (SHARE_KEPT * totalmem()) / availableParallelism());
}
