/** A text as lines of at most `width` characters, broken at spaces but not before a percent sign; a longer
 *  word stands alone.
 *  @param indent  in front of every line but the first */
export function wrapText(text: string, width: number, indent: string): string[] {
  const [first, ...words] = text.split(/ (?!%)/);
  const lines = [first];
  for (const word of words) {
    const last = lines.length - 1;
    if (lines[last].length + 1 + word.length <= width) lines[last] += ` ${word}`;
    else lines.push(indent + word);
  }
  return lines;
}
