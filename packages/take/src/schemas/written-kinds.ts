/** A kind of file that this program writes. */
export interface WrittenKind {
  /** With its article, as messages call it. */
  readonly called: string;
  /** Name of the file, and the command that writes it. */
  readonly file: string;
  readonly command: string;
  /** What to do for who has given this file in place of a result, where that needs more words than the name of a result's file. */
  readonly resultFrom?: string;
}

/** Every kind of file, by its `format`. */
export const writtenKinds = {
  "frontpace-result": { called: "the result of a take", file: "result.json", command: "measure" },
  "frontpace-plan": { called: "a plan", file: "plan.json", command: "plan" },
  "frontpace-scale": { called: "a scale", file: "scale.json", command: "calibrate" },
  "frontpace-check": { called: "a dry check", file: "check.json", command: "check" },
  "frontpace-comparison": { called: "a comparison", file: "output", command: "compare --json" },
  "frontpace-events": {
    called: "the events of a search",
    file: "events.json",
    command: "find",
    resultFrom: "give the result.json that frontpace measure wrote; a search measures nothing",
  },
  "frontpace-summary": {
    called: "the summary of a batch",
    file: "summary.json",
    command: "batch",
    resultFrom: 'give one of the results that it names under "result"',
  },
  "frontpace-batch-take": {
    called: "the record that a batch keeps of a take",
    file: "batch.json",
    command: "batch",
    resultFrom: "give the result.json beside it",
  },
  "frontpace-take": {
    called: "the description of a take",
    file: "take.json",
    command: "find --copy",
    resultFrom:
      "give the result.json that frontpace measure wrote, by default in NAME-frontpace beside the take",
  },
} as const satisfies Readonly<Record<string, WrittenKind>>;

export type WrittenFormat = keyof typeof writtenKinds;

/** The kind that a value says it is of.
 *  @returns null where it says none that is known */
export function kindOf(value: unknown): WrittenKind | null {
  const format = formatOf(value);
  return format !== null && Object.hasOwn(writtenKinds, format)
    ? writtenKinds[format as WrittenFormat]
    : null;
}

/** The `format` of a value, where it has one. */
export function formatOf(value: unknown): string | null {
  const format = typeof value === "object" && value !== null && "format" in value ? value.format : null;
  return typeof format === "string" ? format : null;
}
