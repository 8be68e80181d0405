import type { CheckLine, FrameFacts } from "./types.js";

const NAMED = 6;

/** Repeated, blended and missing frames. */
export function checkFrames({ timing, numbers }: FrameFacts): CheckLine {
  const step = numbers
    .slice(1)
    .reduce((least, number, k) => Math.min(least, number - numbers[k]), Number.POSITIVE_INFINITY);
  const whole = numbers.length < 2 ? 1 : Math.round((numbers[numbers.length - 1] - numbers[0]) / step) + 1;
  const missing = whole - numbers.length;
  const copies = timing.seen === "copies" ? timing.frames : [];
  const values = {
    frames: numbers.length,
    repeated: timing.seen === "conversion" ? null : copies.length,
    missing,
  };
  const line = { check: "frames", values } as const;
  const gaps = missing === 0 ? "" : `; ${missing} of ${whole} numbers are missing`;
  if (timing.seen === "conversion")
    return {
      ...line,
      verdict: "warn",
      message: `${timing.message}: these are not the frames that the camera recorded${gaps}`,
      advice: "export the recorded frames, without converting them to another rate",
    };
  if (copies.length > 0)
    return {
      ...line,
      verdict: "warn",
      message: `${namesOf(copies)} repeat${copies.length === 1 ? "s" : ""} the frame before${gaps}`,
      advice: "export the take again; where frames were lost in recording, use faster memory",
    };
  if (timing.seen === "nothing")
    return {
      ...line,
      verdict: missing > 0 ? "warn" : "not-checked",
      message: `${numbers.length === 1 ? "one frame does not tell" : "the noise is too low, or the frames are too few, to tell"} whether frames are repeated or blended${gaps}`,
      advice: missing > 0 ? MISSING : null,
    };
  return {
    ...line,
    verdict: missing > 0 ? "warn" : "pass",
    message: `${numbers.length} frames, each with noise of its own: none is repeated or blended${gaps}`,
    advice: missing > 0 ? MISSING : null,
  };
}

const MISSING = "export all frames; where frames were lost in recording, use faster memory";

function namesOf(frames: readonly number[]): string {
  const named = frames.slice(0, NAMED).join(", ");
  const more = frames.length > NAMED ? ` and ${frames.length - NAMED} more` : "";
  return `frame${frames.length === 1 ? "" : "s"} ${named}${more}`;
}
