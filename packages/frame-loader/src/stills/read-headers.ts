import type { FrameHeader } from "../samples/frame-header.js";
import { readAhead } from "../sequence/read-ahead.js";
import { type BadStill, orBad } from "./bad-stills.js";
import type { KnownStill } from "./decode-frame.js";
import type { NumberedStill } from "./number-stills.js";
import { readHeader } from "./read-header.js";

/** Headers read at the same time. */
const PARALLEL_HEADERS = 16;

/** What the headers of a sequence say. */
export interface SequenceHeaders {
  readonly headers: readonly FrameHeader[];
  /** The stills that have these headers, in order of number. */
  readonly stills: readonly (KnownStill & NumberedStill)[];
  /** Stills left out because their header is damaged; none unless bad ones are to be skipped. */
  readonly bad: readonly BadStill[];
}

/** Reads the headers of all stills.
 *  @param stills  in order of number
 *  @param skipBad  whether a damaged still is left out instead of being an error
 *  @throws FrameLoadError as `readHeader`, for the first file in order */
export async function readHeaders(
  folder: string,
  stills: readonly NumberedStill[],
  skipBad: boolean,
  signal: AbortSignal | undefined,
): Promise<SequenceHeaders> {
  const headers: FrameHeader[] = [];
  const sound: (KnownStill & NumberedStill)[] = [];
  const bad: BadStill[] = [];
  const load = async (index: number) => {
    const still = stills[index];
    const header = readHeader(folder, still.file);
    return { still, header: skipBad ? await orBad(header, still) : await header };
  };
  const plan = { start: 0, end: stills.length, depth: PARALLEL_HEADERS, load, signal };
  for await (const { still, header } of readAhead(plan)) {
    if ("reason" in header) bad.push(header);
    else {
      headers.push(header);
      const { stamp, plain, isGreyPng = false } = header;
      sound.push({ ...still, stamp, isGreyPng, ...(plain && { plain }) });
    }
  }
  return { headers, stills: sound, bad };
}
