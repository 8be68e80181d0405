import { FrameLoadError } from "../frame-load-error.js";
import type { SplitName } from "./split-name.js";

/** What a `-` before a number can follow and still be its sign, in file names that all have it. */
const SEPARATOR = /^[\s_\-+.,=([]?$/;

/** How the marks in front of one group of digits are to be read. */
export interface SignReading {
  /** One per file: whether its number is below zero. */
  readonly negative: readonly boolean[];
  /** Whether all files have the same `-` and it was taken for a sign all the same. */
  readonly assumed: boolean;
}

/** Tells a sign from a separator in front of a group of digits.
 *
 *  Where file names differ in their marks, what they share is a separator and the rest a sign: `t_-01`, `t_00`;
 *  `shot--01`, `shot-00`. Where all share a `-`, it is a separator (`tile-0001`), unless something else
 *  separates already: the start of the name, or one of space _ - + . , = ( [ (`f_-0012`, `shot--0003`).
 *  @param names  of one pattern, at least one
 *  @throws FrameLoadError `ambiguous-sequence` where more than a sign is left over */
export function readSigns(names: readonly SplitName[], group: number): SignReading {
  const marks = names.map((name) => name.groups[group].marks);
  const shared = marks.reduce(sharedStart);
  if (marks.every((mark) => mark === shared)) {
    const before = shared.length > 1 ? shared.slice(-2, -1) : names[0].groups[group].before;
    const assumed = shared.endsWith("-") && SEPARATOR.test(before);
    return { negative: marks.map(() => assumed), assumed };
  }
  const odd = marks.findIndex((mark) => mark.length > shared.length + 1);
  if (odd >= 0) {
    throw new FrameLoadError(
      "ambiguous-sequence",
      `${names[odd].file} has "${marks[odd]}" before its number where other stills have "${shared}": rename it, or move it out of the folder`,
      { file: names[odd].file },
    );
  }
  return { negative: marks.map((mark) => mark.slice(shared.length) === "-"), assumed: false };
}

function sharedStart(a: string, b: string): string {
  let length = 0;
  while (length < a.length && length < b.length && a[length] === b[length]) length += 1;
  return a.slice(0, length);
}
