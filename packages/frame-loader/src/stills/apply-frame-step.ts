import { FrameLoadError } from "../frame-load-error.js";
import { listSome } from "../list-some.js";
import type { FrameWarning } from "../types.js";
import { missingFrames } from "./missing-frames.js";
import type { NumberedStill } from "./number-stills.js";
import { commonDivisor, steps } from "./steps.js";

/** Turns the numbers of the files into frame numbers and says what is missing.
 *
 *  With a declared step n the numbers are frame numbers where all their steps are multiples of n; otherwise
 *  they count the exported stills, and the frame number is the file number times n.
 *  @param stills  in order of number, none repeated, at least one
 *  @param frameStep  every how many frames one was kept, a whole number >= 1; undefined: not declared
 *  @throws FrameLoadError `number-too-large` */
export function applyFrameStep(
  stills: readonly NumberedStill[],
  frameStep: number | undefined,
): { numbers: number[]; warnings: FrameWarning[] } {
  const fileNumbers = stills.map(({ number }) => number);
  const divisor = commonDivisor(steps(fileNumbers));
  if (frameStep === undefined || frameStep === 1) {
    const undeclared = frameStep === undefined && divisor > 1;
    return {
      numbers: fileNumbers,
      warnings: undeclared ? [commonStep(fileNumbers, divisor)] : missingFrames(fileNumbers, 1),
    };
  }
  const direct = divisor % frameStep === 0;
  const numbers = direct ? fileNumbers : fileNumbers.map((number) => number * frameStep);
  const tooLarge = numbers.findIndex((number) => !Number.isSafeInteger(number));
  if (tooLarge >= 0) {
    const { file } = stills[tooLarge];
    throw new FrameLoadError(
      "number-too-large",
      `the number in ${file} times frameStep ${frameStep} is too large to count with: rename the stills with smaller numbers`,
      { file },
    );
  }
  const reading = direct
    ? `the numbers in the file names rise in multiples of ${frameStep}, so they are taken as frame numbers`
    : `the numbers in the file names count the exported stills, so the frame number is ${frameStep} times the number in the name`;
  return {
    numbers,
    warnings: [
      { code: "sub-sampled", message: `frameStep ${frameStep}: ${reading}` },
      ...missingFrames(numbers, frameStep),
    ],
  };
}

function commonStep(numbers: readonly number[], divisor: number): FrameWarning {
  return {
    code: "common-step",
    message: `the numbers in the file names rise only in multiples of ${divisor} (${listSome(numbers.map(String))}) and are taken as frame numbers; if one frame in ${divisor} was exported, declare frameStep ${divisor}; if the stills are consecutive frames, renumber them in steps of one`,
  };
}
