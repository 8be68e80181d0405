import { FrameLoadError } from "../frame-load-error.js";
import { applyFrameStep } from "./apply-frame-step.js";
import { chooseSequence } from "./choose-sequence.js";
import { numberStills } from "./number-stills.js";

/** Names under which stills stand for these frame numbers: their own where a folder of them alone is numbered alike, made
 *  from the numbers otherwise (which group of digits counts, and whether a "-" is a sign, is told from all names together).
 *  @param stills  in order of number, at least one
 *  @param frameStep  every how many-th recorded frame is there */
export function stillNames(
  stills: readonly { readonly file: string; readonly number: number }[],
  frameStep: number,
): string[] {
  const numbers = stills.map(({ number }) => number);
  const read = numbersOf(
    stills.map(({ file }) => file),
    frameStep,
  );
  if (read?.every((number, i) => number === numbers[i])) return stills.map(({ file }) => file);
  const made = madeNames(numbers);
  return stills.map(({ file }, i) => made[i] + file.slice(file.lastIndexOf(".")));
}

/** Names without an extension that are read as these frame numbers. */
export function madeNames(numbers: readonly number[]): string[] {
  const digits = Math.max(...numbers.map((number) => String(Math.abs(number)).length));
  return numbers.map(
    (number) => `frame_${number < 0 ? "-" : ""}${String(Math.abs(number)).padStart(digits, "0")}`,
  );
}

/** @returns null where the names are no sequence of their own */
function numbersOf(names: readonly string[], frameStep: number): readonly number[] | null {
  try {
    const { members } = chooseSequence(names);
    if (members.length !== names.length) return null;
    const { stills } = numberStills(members);
    return applyFrameStep(stills, frameStep).numbers;
  } catch (error) {
    if (error instanceof FrameLoadError) return null;
    throw error;
  }
}
