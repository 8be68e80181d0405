import type { FrameKind } from "../samples/frame-header.js";
import { readAhead } from "../sequence/read-ahead.js";
import { decodingBytes, readAheadDepth } from "../sequence/read-ahead-depth.js";
import type { OpeningProgress } from "../types.js";
import { type BadStill, orBad } from "./bad-stills.js";
import { decodeFrame, type KnownStill } from "./decode-frame.js";
import type { NumberedStill } from "./number-stills.js";

/** Decodes every still once, whole, and sets those aside that cannot be: a file cut short has a sound header.
 *  @param stills  of this kind, in order of number
 *  @throws FrameLoadError `changed-frame`; signal.reason once the signal has aborted */
export async function dropUndecodable<T extends KnownStill & NumberedStill>(
  folder: string,
  stills: readonly T[],
  kind: FrameKind,
  { signal, onProgress }: { signal?: AbortSignal; onProgress?: (progress: OpeningProgress) => void },
): Promise<{ stills: readonly T[]; bad: readonly BadStill[] }> {
  const { rows, columns } = kind;
  const whole = { row: 0, column: 0, rows, columns };
  const sound: T[] = [];
  const bad: BadStill[] = [];
  const load = async (index: number) => {
    const still = stills[index];
    const outcome = await orBad(decodeFrame(folder, still, kind, whole), still);
    return { still, found: "reason" in outcome ? outcome : null };
  };
  const depth = readAheadDepth(decodingBytes(kind, whole));
  for await (const { still, found } of readAhead({ start: 0, end: stills.length, depth, load, signal })) {
    if (found) bad.push(found);
    else sound.push(still);
    onProgress?.({ stage: "checking", done: sound.length + bad.length, total: stills.length });
  }
  return { stills: sound, bad };
}
