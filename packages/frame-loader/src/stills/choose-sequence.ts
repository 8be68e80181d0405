import { FrameLoadError } from "../frame-load-error.js";
import { type SplitName, splitName } from "./split-name.js";

/** The stills of one sequence, and the ones that are not part of it. */
export interface ChosenSequence {
  readonly members: readonly SplitName[];
  readonly strays: readonly string[];
}

/** Finds the sequence among the stills of a folder: the most frequent file name pattern, digits aside.
 *  @param stills  file names
 *  @throws FrameLoadError `ambiguous-sequence` where two patterns are equally frequent */
export function chooseSequence(stills: readonly string[]): ChosenSequence {
  const byPattern = new Map<string, SplitName[]>();
  const strays: string[] = [];
  for (const name of stills.map(splitName)) {
    if (name.groups.length === 0) {
      strays.push(name.file);
      continue;
    }
    const family = byPattern.get(name.pattern);
    if (family === undefined) byPattern.set(name.pattern, [name]);
    else family.push(name);
  }
  const [first, second] = [...byPattern.values()].sort((a, b) => b.length - a.length);
  if (first === undefined) return { members: [], strays };
  if (second !== undefined && second.length === first.length) {
    throw new FrameLoadError(
      "ambiguous-sequence",
      `the folder holds ${first.length} still(s) named like ${first[0].file} and as many like ${second[0].file}: put each sequence in a folder of its own`,
      { file: first[0].file, otherFile: second[0].file },
    );
  }
  for (const family of byPattern.values()) {
    if (family !== first) strays.push(...family.map((name) => name.file));
  }
  return { members: first, strays: strays.sort() };
}
