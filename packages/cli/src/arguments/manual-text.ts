import { wrapText } from "../terminal/wrap-text.js";

/** Characters in a line of the help: what commander takes where it writes to no terminal. */
const WIDTH = 80;

/** What the help of a command says behind its options. */
export interface Manual {
  /** Paragraphs; one whose lines are to stay as they are begins with two spaces. */
  readonly notes?: readonly string[];
  readonly example: {
    /** What the example does; absent: it speaks for itself. */
    readonly of?: string;
    /** Command lines as they are typed. */
    readonly lines: readonly string[];
  };
  readonly exitCodes: Readonly<Record<number, string>>;
  /** Last line. */
  readonly closing?: string;
}

/** Notes, example and exit codes as text, in the order of a manual page. */
export function manualText({ notes = [], example, exitCodes, closing }: Manual): string {
  const paragraphs = [
    ...notes.map((note) => (note.startsWith("  ") ? note : wrapped(note))),
    [wrapped(`Example${example.of ? `, ${example.of}` : ""}:`), ...example.lines.map(indented)].join("\n"),
    ["Exit codes:", ...Object.entries(exitCodes).map(([code, text]) => exitLine(code, text))].join("\n"),
    ...(closing ? [wrapped(closing)] : []),
  ];
  return `\n${paragraphs.join("\n\n")}`;
}

/** 2 wherever arguments are read, 1 wherever anything may be at fault, 130 where work may be stopped. */
export const usualExits = {
  1: "a fault of the program",
  2: "the command line or an input is wrong",
} as const;
export const longExits = { ...usualExits, 130: "interrupted; nothing half-written" } as const;

function exitLine(code: string, text: string): string {
  const indent = " ".repeat(7);
  return `  ${code.padEnd(5)}${wrapText(text, WIDTH - indent.length, indent).join("\n")}`;
}

function wrapped(text: string): string {
  return wrapText(text, WIDTH, "").join("\n");
}

function indented(line: string): string {
  return `  ${line}`;
}
