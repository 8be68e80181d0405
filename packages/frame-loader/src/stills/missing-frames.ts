import { listSome } from "../list-some.js";
import type { FrameWarning } from "../types.js";
import { steps } from "./steps.js";

/** Says which frames are missing between the first and the last of `numbers`, which rise in multiples of `step`. */
export function missingFrames(numbers: readonly number[], step: number): FrameWarning[] {
  const gaps: string[] = [];
  let count = 0;
  steps(numbers).forEach((rise, i) => {
    if (rise <= step) return;
    const first = numbers[i] + step;
    const last = numbers[i + 1] - step;
    gaps.push(first === last ? `${first}` : `${first} to ${last}`);
    count += rise / step - 1;
  });
  if (count === 0) return [];
  const what = count === 1 ? "1 frame is missing" : `${count} frames are missing`;
  return [
    {
      code: "missing-frames",
      message: `${what} (${listSome(gaps)}): the gap in time is kept, no other frame is moved`,
    },
  ];
}
