import { stat } from "node:fs/promises";
import type { FrameSequence } from "@frontpace/frame-loader";
import { TakeError } from "../take-error.js";
import type { MeasureContext, TakeResult } from "../types.js";
import { hashSamples } from "./hash-samples.js";
import { openTake } from "./open-take.js";
import { throttleProgress } from "./throttle-progress.js";

/** Opens the frames that a result was measured from, as they were opened then, and refuses others: size, depth, numbers and, where the result
 *  says of which part its hash is, the samples must be the same.
 *  @param take  a folder of stills or a file of frames
 *  @returns open, to be closed, of all its frames the range that was used, end exclusive
 *  @throws TakeError `footage-missing`, `other-footage`; the frame loader's error; `signal.reason` when stopped */
export async function openFootage(
  { take: used }: Pick<TakeResult, "take">,
  take: string,
  { signal, onProgress }: MeasureContext = {},
): Promise<{ readonly frames: FrameSequence; readonly range: { start: number; end: number } }> {
  if (!(await stat(take).catch(() => null)))
    throw new TakeError("footage-missing", `the footage ${take} is not there: name its folder or its file`, {
      file: take,
    });
  const { frameStep, skipBad, transfer, raw } = used;
  const { frames } = await openTake(
    take,
    {
      ...(frameStep !== null && { frameStep }),
      ...(skipBad !== undefined && { skipBad }),
      ...(transfer !== undefined && { transfer }),
      ...(raw !== undefined && { raw }),
    },
    { ...(signal && { signal }), ...(onProgress && { onProgress }) },
  );
  try {
    const refuse = (what: string) =>
      new TakeError(
        "other-footage",
        `${take} is not the footage that ${used.name} was measured from: ${what}; name that, or measure this`,
        { file: take },
      );
    const { rows, columns, bitDepth, numbers } = frames;
    if (rows !== used.rows || columns !== used.columns)
      throw refuse(`its frames are ${columns} x ${rows} px, not ${used.columns} x ${used.rows} px`);
    if (bitDepth !== used.bitDepth) throw refuse(`its samples have ${bitDepth} bits, not ${used.bitDepth}`);
    const start = numbers.indexOf(used.firstFrame);
    const end = numbers.indexOf(used.lastFrame) + 1;
    if (start < 0 || end - start !== used.frames)
      throw refuse(
        `it does not have the ${used.frames} frames from number ${used.firstFrame} to ${used.lastFrame}`,
      );
    const range = { start, end };
    const report = onProgress && throttleProgress(onProgress);
    if (used.framesPart) {
      const { hashed, digest } = hashSamples(frames);
      let done = 0;
      for await (const _ of hashed.frames(range, used.framesPart, signal ? { signal } : {}))
        report?.({ stage: "comparing with the result", done: ++done, total: used.frames });
      if (digest() !== used.framesHash)
        throw refuse("its samples differ (the frames may have been exported again)");
    }
    return { frames, range };
  } catch (error) {
    await frames.close();
    throw error;
  }
}
