import { dirname, relative, resolve } from "node:path";
import { buildFolder } from "../files/build-folder.js";
import { takeFileOf } from "../files/read-take-file.js";
import { realPath } from "../files/real-path.js";
import { openTake } from "../footage/open-take.js";
import { throttleProgress } from "../footage/throttle-progress.js";
import { checkOptions } from "../schemas/check-keys.js";
import { checkAgainstFrames } from "../settings/check-against-frames.js";
import type { CopiedFrames, CopyOptions, MeasureContext, MeasureOptions, TakeFile } from "../types.js";
import { eventRange } from "./event-range.js";
import { prepareCopy } from "./prepare-copy.js";

/** Copies the frames of an event out of a take, so that they are a take of their own: stills as they are, frames of a file
 *  as PNG or (floating point) TIFF with the stored samples, under the same frame numbers, and a take.json with what is
 *  known of the take. The folder appears at once, when it is complete.
 *  @param take  a folder of numbered stills, or a file that holds frames
 *  @param folder  must be empty or not there
 *  @throws TakeError, or the frame loader's error, each with a stable `code`; `signal.reason` when stopped */
export async function copyFrames(
  take: string,
  folder: string,
  { firstFrame, lastFrame, marginFrames, options = {} }: CopyOptions,
  context: MeasureContext = {},
): Promise<CopiedFrames> {
  const { signal, onProgress } = context;
  const report = onProgress && throttleProgress(onProgress);
  if (marginFrames !== undefined && !(Number.isSafeInteger(marginFrames) && marginFrames >= 0))
    throw new RangeError(`marginFrames must be a whole number >= 0, got ${marginFrames}`);
  const checked = await checkOptions(options);
  await prepareCopy(folder);
  const { frames, file } = await openTake(take, checked, context);
  try {
    // From folder to folder as they lie: a way up out of a link leads elsewhere.
    const copiedFrom = relative(await realPath(folder), await realPath(take));
    const known = {
      ...knownOf(file, checked, dirname(await takeFileOf(take)), folder),
      copiedFrom,
    };
    const extent = { path: null, width: null, firstFrame, lastFrame };
    checkAgainstFrames(extent, frames);
    const range = eventRange(frames.numbers, extent, marginFrames);
    await buildFolder(folder, async (building) => {
      const total = range.end - range.start;
      let done = 0;
      for await (const { name, bytes } of frames.stills(range, signal ? { signal } : {})) {
        await building.add(name, bytes);
        report?.({ stage: "copying", done: ++done, total });
      }
      await building.add("take.json", `${JSON.stringify(known, null, 2)}\n`);
      signal?.throwIfAborted();
    });
    return {
      frames: range.end - range.start,
      firstFrame: frames.numbers[range.start],
      lastFrame: frames.numbers[range.end - 1],
    };
  } finally {
    await frames.close();
  }
}

/** What holds for the copied frames too: all but how samples lay in the file, which of its frames were used, and the plan, which
 *  is of the whole take. A calibration is named from the copy. */
function knownOf(file: TakeFile | null, options: MeasureOptions, from: string, folder: string): TakeFile {
  const { raw: _raw, plan: _plan, firstFrame: _first, lastFrame: _last, ...known } = { ...file, ...options };
  // An uncertainty belongs to the value it was stated with.
  if (options.rateHz !== undefined && options.rateUncertaintyHz === undefined) delete known.rateUncertaintyHz;
  const calibration = options.calibration ?? (file?.calibration && resolve(from, file.calibration));
  return {
    format: "frontpace-take",
    version: 1,
    ...known,
    ...(calibration && { calibration: relative(resolve(folder), resolve(calibration)) }),
  };
}
