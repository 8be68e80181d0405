/** A file name taken apart at its groups of digits. */
export interface SplitName {
  readonly file: string;
  /** The text round the groups without the signs in front of them; equal for the stills of one sequence. The
   *  extension does not enter. */
  readonly pattern: string;
  readonly groups: readonly DigitGroup[];
}

/** One group of digits in a file name. */
interface DigitGroup {
  /** The digits as written, leading zeros and all. */
  readonly digits: string;
  /** The run of `-` and `+` right in front of the digits, often empty. */
  readonly marks: string;
  /** The character in front of that run; empty at the start of the name. */
  readonly before: string;
}

/** Takes a file name apart: `tile_-0012.png` has the pattern `tile_#` and one group, `0012` behind `-`. */
export function splitName(file: string): SplitName {
  const stem = file.slice(0, file.lastIndexOf("."));
  // Texts sit at the even places, digits at the odd ones.
  const pieces = stem.split(/(\d+)/);
  const groups: DigitGroup[] = [];
  let pattern = "";
  for (let i = 0; i + 1 < pieces.length; i += 2) {
    const text = pieces[i].replace(/[-+]+$/, "");
    const lastDigit = i > 0 ? pieces[i - 1].slice(-1) : "";
    groups.push({
      digits: pieces[i + 1],
      marks: pieces[i].slice(text.length),
      before: text === "" ? lastDigit : text.slice(-1),
    });
    pattern += `${text}#`;
  }
  return { file, pattern: pattern + pieces[pieces.length - 1], groups };
}
