import { TakeError } from "../take-error.js";

/** Refuses a file that says itself that it is of another kind.
 *  @param wanted  its `format`, and the command that writes such a file, for example `frontpace-result`, "result.json", "measure"
 *  @throws TakeError `invalid-value` */
export function checkFormat(
  value: unknown,
  where: string,
  wanted: { readonly format: string; readonly file: string; readonly command: string },
): void {
  const format = typeof value === "object" && value !== null && "format" in value ? value.format : undefined;
  if (typeof format !== "string" || format === wanted.format) return;
  throw new TakeError(
    "invalid-value",
    `${where} is a file of format ${format}, not ${wanted.format}: give the ${wanted.file} that frontpace ${wanted.command} wrote`,
    { file: where, key: "format" },
  );
}
