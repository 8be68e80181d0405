import type { BrightnessField } from "../model/front-model.js";
import { arrivalFrame, firstFrameFrom } from "../model/passage.js";
import { bothWindows } from "../model/worked-streak.js";
import type { FrontRun } from "./relaxing-window.js";

/** Frames before and after a passage, in those that the front takes for the whole path, and the fewest. */
const RUNS = 2;
const FEWEST_FRAMES = 30;

/** A streak in the frames about the passage of the front at each position: what runs with it is seen there, and a take may be many times as
 *  long. One that is not stays whole. */
export function nearPassage(
  field: BrightnessField,
  { motion, numbers }: Pick<FrontRun, "motion" | "numbers">,
): BrightnessField {
  const { positions, window } = field;
  const reach = FEWEST_FRAMES + (RUNS * positions) / Math.abs(motion.slopePixelsPerFrame);
  if (numbers[numbers.length - 1] - numbers[0] < 2 * reach) return field;
  const placesAt = (aside: number) =>
    Int32Array.from({ length: positions }, (_, p) =>
      firstFrameFrom(numbers, arrivalFrame(motion, p) + aside),
    );
  return {
    ...field,
    window: bothWindows(window ?? null, { first: placesAt(-reach), end: placesAt(reach) }),
  };
}
