/** Words of the terminal in the signs of print: ± and µ, which a terminal may not have, and × between sizes. What is to be typed, as in
 *  "--scale 0.2mm+-0.5%", stays as it is. */
export function typeset(text: string): string {
  return text
    .replaceAll(" +- ", " ± ")
    .replace(/(\d) u([ms])\b/g, "$1 µ$2")
    .replace(/(\d) x (\d)/g, "$1 × $2")
    .replace(/\^2\b/g, "²")
    .replace(/(\d) %/g, "$1\u202f%");
}

/** With a capital letter and a full stop: a line of the terminal as a sentence. */
export function sentence(text: string): string {
  const set = typeset(text);
  const end = /[.!?]$/.test(set) ? "" : ".";
  return `${set.charAt(0).toUpperCase()}${set.slice(1)}${end}`;
}
