import type { z } from "zod";
import { TakeError } from "../take-error.js";
import type { DryCheckOptions, FindOptions, MeasureOptions } from "../types.js";

/** Checks keys and types against a schema; the first thing wrong is the error.
 *  @param where  named in the message: the file, or empty for options
 *  @throws TakeError `unknown-key`, `invalid-value` */
export async function checkKeys<T extends z.ZodObject>(
  schema: T,
  rules: Readonly<Record<string, string>>,
  input: unknown,
  where = "",
): Promise<z.infer<T>> {
  const prefix = where === "" ? "" : `${where}: `;
  const fields = where === "" ? {} : { file: where };
  if (typeof input !== "object" || input === null || Array.isArray(input)) {
    const message = `${prefix}must hold one object with the keys ${Object.keys(schema.shape).join(", ")}, got ${show(input)}`;
    throw new TakeError("invalid-value", message, { ...fields, value: input });
  }
  const checked = schema.safeParse(input);
  if (checked.success) return checked.data;

  const unknown = checked.error.issues.find((issue) => issue.code === "unrecognized_keys");
  if (unknown) {
    const key = unknown.keys[0];
    const message = `${prefix}unknown key ${show(key)}; ${await suggestion(key, Object.keys(schema.shape))}`;
    throw new TakeError("unknown-key", message, { ...fields, key });
  }
  const key = String(checked.error.issues[0].path[0]);
  const value = (input as Record<string, unknown>)[key];
  const message = `${prefix}${key} must be ${rules[key]}, got ${show(value)}`;
  throw new TakeError("invalid-value", message, { ...fields, key, value });
}

/** The nearest known key where one is near enough to be meant, otherwise all of them. */
async function suggestion(key: string, known: readonly string[]): Promise<string> {
  const { distance } = await import("fastest-levenshtein");
  const lower = key.toLowerCase();
  const ranked = known.map((name) => ({ name, edits: distance(lower, name.toLowerCase()) }));
  const nearest = ranked.reduce((best, next) => (next.edits < best.edits ? next : best));
  if (nearest.edits <= Math.max(2, key.length / 3)) return `the nearest known key is "${nearest.name}"`;
  return `no known key is near it; known are ${known.join(", ")}`;
}

/** A value as it stands in a message: JSON where JSON can say it. */
function show(value: unknown): string {
  if (value === undefined) return "nothing";
  if (typeof value === "number") return String(value);
  return JSON.stringify(value, (_key, inner) =>
    typeof inner === "number" && !Number.isFinite(inner) ? String(inner) : inner,
  );
}

/** Checks the options of a measurement, each for itself.
 *  @throws TakeError `unknown-key`, `invalid-value` */
export async function checkOptions(options: unknown): Promise<MeasureOptions> {
  const { measureOptionsSchema, takeRules } = await import("./take-schema.js");
  return checkKeys(measureOptionsSchema, takeRules, options);
}

/** Checks the options of a search, each for itself.
 *  @throws TakeError `unknown-key`, `invalid-value` */
export async function checkFindOptions(options: unknown): Promise<FindOptions> {
  const { findOptionsSchema, findRules } = await import("./take-schema.js");
  return checkKeys(findOptionsSchema, findRules, options);
}

/** Checks the options of a dry check, each for itself.
 *  @throws TakeError `unknown-key`, `invalid-value` */
export async function checkDryCheckOptions(options: unknown): Promise<DryCheckOptions> {
  const { dryCheckOptionsSchema, dryCheckRules } = await import("./take-schema.js");
  return checkKeys(dryCheckOptionsSchema, dryCheckRules, options);
}
