import { readFile } from "node:fs/promises";
import { basename, dirname, join, relative, resolve } from "node:path";
import { drawReport, REPORT_FILES, REPORT_PICTURES } from "@frontpace/batch";
import { prepareOutput, readResult, writeOutputs } from "@frontpace/take";
import { type RunContext, warn } from "../terminal/io.js";
import { resultFile } from "../terminal/result-file.js";
import type { ReportArguments } from "./report-command.js";

/** `frontpace report`: writes the page of a result from what lies beside it.
 *  @throws CliError `invalid-option`; TakeError */
export async function reportAction(
  named: string,
  { out, quiet = false }: ReportArguments,
  context: RunContext,
): Promise<void> {
  const { signal } = context;
  const file = await resultFile(named, { "--out": out });
  const result = await readResult(file);
  const beside = await readBeside(dirname(file), basename(file));
  const folder = relative(process.cwd(), resolve(out ?? dirname(file))) || ".";
  await prepareOutput(folder);
  const page = await drawReport(result, beside);
  await writeOutputs(folder, { "report.html": page }, signal ? { signal } : {});
  if (result.event && !REPORT_PICTURES.some((name) => name in beside))
    warn(
      context,
      "no-pictures: no pictures lie beside the result, and the page has none: measure again without --no-pictures",
    );
  const written = relative(process.cwd(), join(folder, "report.html"));
  const caution = "People and premises may be visible in the pictures: look at them before you pass it on.";
  context.stdout.write(`written:\n  ${written}\n${quiet ? "" : `\n${caution}\n`}`);
}

/** What a report shows of the files beside a result; what is not there is left out.
 *  @param result  name of the file that holds the result */
async function readBeside(folder: string, result: string): Promise<Record<string, string | Uint8Array>> {
  const found: Record<string, string | Uint8Array> = {};
  for (const name of [...REPORT_PICTURES, ...REPORT_FILES]) {
    const bytes = await readFile(join(folder, name)).catch(() => null);
    const isResult = name === "result.json" && result !== name;
    if (bytes !== null && !isResult) found[name] = name.endsWith(".png") ? bytes : bytes.toString("utf8");
  }
  return found;
}
