// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for.
const CONTROL = /[\u0000-\u001f\u007f-\u009f]/g;

/** A name of a file as it can stand in a line of a terminal: control characters, which would break the line or command the terminal, as they are
 *  written in JSON. */
export function inOneLine(name: string): string {
  return name.replace(CONTROL, (sign) => {
    const short = JSON.stringify(sign).slice(1, -1);
    return short === sign ? `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}` : short;
  });
}
