import { FrameLoadError } from "../frame-load-error.js";
import { listSome } from "../list-some.js";
import type { FrameWarning } from "../types.js";

/** A still that is left out, and why. */
export interface BadStill {
  readonly file: string;
  readonly number: number;
  /** What is wrong with it, as it reads behind the file's name. */
  readonly reason: string;
}

/** Waits for work on a still; where the still is damaged or cannot be read, that is the outcome.
 *  @throws whatever else went wrong */
export async function orBad<T>(
  work: Promise<T>,
  { file, number }: { readonly file: string; readonly number: number },
): Promise<T | BadStill> {
  try {
    return await work;
  } catch (error) {
    const code = error instanceof FrameLoadError ? error.code : undefined;
    if (code !== "corrupt-frame" && code !== "unreadable-frame") throw error;
    return { file, number, reason: (error as FrameLoadError).reason ?? "cannot be used" };
  }
}

/** Refuses a take of which the larger part is bad: what is left would not be the take that was filmed.
 *  @throws FrameLoadError `too-many-bad-frames` */
export function checkShare(bad: readonly BadStill[], total: number): void {
  if (2 * bad.length <= total) return;
  const share = bad.length === total ? `all ${total} stills are` : `${bad.length} of ${total} stills are`;
  throw new FrameLoadError(
    "too-many-bad-frames",
    `${share} damaged or cannot be read (${listReasons(bad)}): too many to leave out; export the take again`,
    { file: bad[0].file },
  );
}

/** Says which frames were left out and why.
 *  @param bad  in order of number
 *  @param step  between the numbers of neighbours of which none is missing */
export function skippedFrames(bad: readonly BadStill[], step: number): FrameWarning[] {
  if (bad.length === 0) return [];
  const runs: [first: number, last: number][] = [];
  for (const { number } of bad) {
    const run = runs[runs.length - 1];
    if (run !== undefined && number - run[1] === step) run[1] = number;
    else runs.push([number, number]);
  }
  const numbers = runs
    .map(([first, last]) => (first === last ? `${first}` : `${first} to ${last}`))
    .join(", ");
  const what = bad.length === 1 ? `frame ${numbers} is` : `frames ${numbers} are`;
  return [
    {
      code: "frames-skipped",
      message: `${what} left out (${listReasons(bad)}): the gap in time is kept, no other frame is moved`,
    },
  ];
}

function listReasons(bad: readonly BadStill[]): string {
  return listSome(bad.map(({ file, reason }) => `${file} ${reason}`));
}
