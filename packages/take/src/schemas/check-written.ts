import type { z } from "zod";
import { TakeError } from "../take-error.js";
import { formatOf, kindOf, type WrittenFormat, type WrittenKind, writtenKinds } from "./written-kinds.js";

/** The version of every kind of file. */
const VERSION = 1;
/** Letters of a value that a message shows. */
const MOST_SHOWN = 60;

/** Checks what a file of this program holds: that it is of the kind that is wanted, and then every key of it.
 *  @param where  name of the file
 *  @param schema  loaded only for what says that it is of this kind
 *  @throws TakeError `invalid-value` */
export async function checkWritten<T extends z.ZodType>(
  value: unknown,
  where: string,
  wanted: WrittenFormat,
  schema: () => Promise<T>,
): Promise<z.output<T>> {
  const kind = writtenKinds[wanted];
  const give = `give the ${kind.file} that frontpace ${kind.command} wrote`;
  const refused = (message: string, key: string) =>
    new TakeError("invalid-value", `${where} ${message}`, { file: where, key });
  if (formatOf(value) !== wanted)
    throw refused(
      `is not ${kind.called} but ${whatItIs(value)}: ${instead(value, wanted) ?? give}`,
      "format",
    );
  const { version } = value as { version?: unknown };
  if (version !== VERSION)
    throw refused(
      `is ${kind.called} in version ${shown(version)} of its format, and this program reads version ${VERSION}: make it again with frontpace ${kind.command}`,
      "version",
    );
  const checked = (await schema()).safeParse(value);
  if (checked.success) return checked.data;
  const { key, what } = firstUnfit(value, checked.error.issues[0]);
  throw refused(
    `is ${kind.called}, and ${what}: it was changed, or another version of the program wrote it; make it again with frontpace ${kind.command}`,
    key,
  );
}

function whatItIs(value: unknown): string {
  const kind = kindOf(value);
  if (kind !== null) return kind.called;
  const format = formatOf(value);
  if (format !== null) return `a file of format ${shown(format)}`;
  if (typeof value === "object" && value !== null && !Array.isArray(value)) {
    const keys = Object.keys(value);
    if (keys.length === 0) return "an empty object";
    return `an object without a "format" that frontpace knows, with the keys ${cut(keys.join(", "))}`;
  }
  return Array.isArray(value) ? "a list" : shown(value);
}

/** What to give in place of a file of another kind, where that needs more words than its name. */
function instead(value: unknown, wanted: WrittenFormat): string | null {
  const kind: WrittenKind | null = kindOf(value);
  return wanted === "frontpace-result" ? (kind?.resultFrom ?? null) : null;
}

/** The first place that does not fit, and what stands there. */
function firstUnfit(
  value: unknown,
  issue: z.core.$ZodIssue,
): { readonly key: string; readonly what: string } {
  const unknown = issue.code === "unrecognized_keys" ? issue.keys.slice(0, 1) : [];
  const path = [...issue.path, ...unknown].map(String);
  const key = path.join(".");
  const there = path.reduce<unknown>((inner, step) => (inner as Record<string, unknown>)?.[step], value);
  if (unknown.length > 0) return { key, what: `${key} is no key of it` };
  return { key, what: there === undefined ? `${key} is missing` : `${key} cannot be ${shown(there)}` };
}

function shown(value: unknown): string {
  return value === undefined ? "nothing" : cut(JSON.stringify(value));
}

function cut(text: string): string {
  return text.length > MOST_SHOWN ? `${text.slice(0, MOST_SHOWN)}…` : text;
}
