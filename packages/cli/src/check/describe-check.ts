import type { TakeCheck } from "@frontpace/take";
import { wrapText } from "../terminal/wrap-text.js";

/** Characters in a line of running text. */
const LINE_WIDTH = 100;
const NAME_WIDTH = 10;
const MARKS = { pass: "pass", warn: "WARN", "not-checked": "-" } as const;
const MARK_WIDTH = 6;

/** The lines of a dry check for a person.
 *  @param rate  how the measured recording rate is given to measure; null where none is known with its uncertainty
 *  @param files  paths written, as they are to be shown */
export function describeCheck(
  { take, lines, passed }: TakeCheck,
  rate: string | null,
  files: readonly string[],
): string[] {
  const frames = take.frames === 1 ? "a still" : `${take.frames} frames`;
  const warned = lines.filter(({ verdict }) => verdict === "warn").length;
  return [
    `checked: ${take.name}, ${frames} of ${take.columns} x ${take.rows} px, ${take.bitDepth} bit`,
    ...lines.flatMap(({ check, verdict, message, advice }) => [
      ...hanging(MARKS[verdict].padEnd(MARK_WIDTH) + check.padEnd(NAME_WIDTH), message),
      ...(advice === null ? [] : hanging(" ".repeat(MARK_WIDTH + NAME_WIDTH), `-> ${advice}`)),
    ]),
    passed ? whatPassed(lines) : `${warned} of ${lines.length} lines warn`,
    ...(rate === null ? [] : [`use it: frontpace measure TAKE --rate ${rate}`]),
    ...(files.length > 0 ? ["", "written:", ...files.map((file) => `  ${file}`)] : []),
  ];
}

/** What was not looked at is no reason to change nothing. */
function whatPassed(lines: TakeCheck["lines"]): string {
  const untold = lines.filter(({ verdict }) => verdict === "not-checked").map(({ check }) => check);
  return untold.length === 0 ? "nothing to change" : `no line warns; not told: ${untold.join(", ")}`;
}

function hanging(head: string, text: string): string[] {
  const indent = " ".repeat(head.length);
  const [first, ...more] = wrapText(text, LINE_WIDTH - head.length, "");
  return [head + first, ...more.map((line) => indent + line)];
}
