import { FrameLoadError } from "../frame-load-error.js";
import type { FrameWarning } from "../types.js";
import { readSigns } from "./read-signs.js";
import type { SplitName } from "./split-name.js";
import { commonDivisor, steps } from "./steps.js";

/** A still and the number in its name. */
export interface NumberedStill {
  readonly file: string;
  readonly number: number;
}

interface Candidate {
  readonly group: number;
  readonly numbers: readonly number[];
  readonly assumedSign: boolean;
  readonly distinct: number;
  /** Share of steps of one between the sorted, distinct numbers. */
  readonly onesShare: number;
  readonly divisor: number;
}

/** Reads the number of every still from the group of digits that varies between the file names. Where several
 *  vary, the one with the most different numbers is taken, of these the one that rises in steps of one most
 *  often, then in the smallest steps, then the last.
 *  @param names  of one pattern, at least one
 *  @returns in order of number
 *  @throws FrameLoadError `repeated-number`, `number-too-large` or `ambiguous-sequence` */
export function numberStills(names: readonly SplitName[]): {
  stills: NumberedStill[];
  warnings: FrameWarning[];
} {
  const groups = names[0].groups.map((_, group) => group);
  const varying = groups.filter((group) => varies(names, group));
  const candidates = (varying.length > 0 ? varying : groups.slice(-1)).map((group) =>
    candidate(names, group),
  );
  const usable = candidates.filter(({ numbers }) => numbers.every(Number.isSafeInteger));
  if (usable.length === 0) {
    throw new FrameLoadError(
      "number-too-large",
      `the number in ${names[0].file} is too large to count with: rename the stills with numbers of at most 15 digits`,
      { file: names[0].file },
    );
  }
  const chosen = usable.sort(better)[0];
  const stills = names.map(({ file }, i) => ({ file, number: chosen.numbers[i] }));
  stills.sort((a, b) => a.number - b.number);
  for (let i = 1; i < stills.length; i += 1) {
    if (stills[i].number === stills[i - 1].number) throw repeated(stills[i - 1], stills[i]);
  }
  return { stills, warnings: numberWarnings(names[0], chosen, varying.length, stills) };
}

function varies(names: readonly SplitName[], group: number): boolean {
  const key = (name: SplitName) =>
    name.groups[group].marks.slice(-1) + name.groups[group].digits.replace(/^0+(?=\d)/, "");
  const first = key(names[0]);
  return names.some((name) => key(name) !== first);
}

function candidate(names: readonly SplitName[], group: number): Candidate {
  const { negative, assumed } = readSigns(names, group);
  const numbers = names.map((name, i) => {
    const magnitude = Number(name.groups[group].digits);
    return negative[i] && magnitude !== 0 ? -magnitude : magnitude;
  });
  const rises = steps([...new Set(numbers)].sort((a, b) => a - b));
  return {
    group,
    numbers,
    assumedSign: assumed,
    distinct: rises.length + 1,
    onesShare: rises.length === 0 ? 0 : rises.filter((rise) => rise === 1).length / rises.length,
    divisor: commonDivisor(rises),
  };
}

function better(a: Candidate, b: Candidate): number {
  return b.distinct - a.distinct || b.onesShare - a.onesShare || a.divisor - b.divisor || b.group - a.group;
}

function repeated(first: NumberedStill, second: NumberedStill): FrameLoadError {
  return new FrameLoadError(
    "repeated-number",
    `${first.file} and ${second.file} both carry the number ${first.number}: keep one of them, or put the second sequence in a folder of its own`,
    { file: second.file, otherFile: first.file },
  );
}

function numberWarnings(
  example: SplitName,
  chosen: Candidate,
  varyingCount: number,
  stills: readonly NumberedStill[],
): FrameWarning[] {
  const warnings: FrameWarning[] = [];
  const group = example.groups[chosen.group];
  const several = stills.length === 1 ? example.groups.length : varyingCount;
  if (several > 1) {
    const reason =
      stills.length === 1
        ? "with a single still the last one is taken"
        : chosen.onesShare > 0
          ? "its numbers rise in steps of one"
          : "its numbers rise in the smallest steps";
    const subject = stills.length === 1 ? "stand in the file name" : "vary between the file names";
    warnings.push({
      code: "number-group",
      message: `${several} groups of digits ${subject}: the frame number is read from group ${chosen.group + 1} ("${group.digits}" in ${example.file}), because ${reason}`,
    });
  }
  if (chosen.assumedSign) {
    const last = stills[stills.length - 1];
    warnings.push({
      code: "sign",
      message: `the "-" in ${example.file} is read as a sign, since it follows another separator or starts the name: frames ${stills[0].number} to ${last.number}; if it only separates, rename the stills without it`,
    });
  }
  return warnings;
}
