import { join, relative } from "node:path";
import { checkTake, type DryCheck, type TakeCheck, writeOutputs } from "@frontpace/take";
import { cautions, describeCautions } from "../terminal/cautions.js";
import { type RunContext, warn } from "../terminal/io.js";
import { outputFolder } from "../terminal/output-folder.js";
import { progressLine } from "../terminal/progress-line.js";
import type { CheckArguments } from "./check-command.js";
import { checkOptions } from "./check-options.js";
import { describeCheck } from "./describe-check.js";

/** `frontpace check`: looks at a dry take, keeps a still of it, prints what to change.
 *  @returns whether no line warns
 *  @throws CliError, TakeError, PlannerError, the frame loader's error; `signal.reason` when stopped */
export async function checkAction(
  take: string,
  plan: string | undefined,
  args: CheckArguments,
  context: RunContext,
): Promise<boolean> {
  const { signal } = context;
  const options = { ...checkOptions(args), ...(plan !== undefined && { plan }) };
  const out = await outputFolder(take, args.out);
  const progress = progressLine(context);
  let dry: DryCheck;
  try {
    dry = await checkTake(take, options, { ...(signal && { signal }), onProgress: progress.update });
  } finally {
    progress.clear();
  }

  const check = { ...dry.check, cautions: [...cautions] };
  const json = `${JSON.stringify(check, null, 2)}\n`;
  const { reference } = dry;
  const files = { "check.json": json, ...(reference && { [reference.file]: reference.bytes }) };
  await writeOutputs(out, files, signal ? { signal } : {});

  for (const { code, message } of check.warnings) warn(context, `${code}: ${message}`);
  const written = Object.keys(files).map((name) => relative(process.cwd(), join(out, name)));
  const lines = describeCheck(check, rateOption(check), written);
  if (!args.quiet) lines.push("", ...describeCautions());
  context.stdout.write(args.json ? json : `${lines.join("\n")}\n`);
  return check.passed;
}

/** The measured recording rate as `--rate` takes it, to a tenth of its uncertainty. */
function rateOption({ clock }: Pick<TakeCheck, "clock">): string | null {
  if (!clock || clock.rateUncertaintyHz === null) return null;
  const { rateHz, rateUncertaintyHz: u } = clock;
  const decimals = u > 0 ? Math.min(9, Math.max(0, 1 - Math.floor(Math.log10(u)))) : 6;
  return `${rateHz.toFixed(decimals)}+-${u.toFixed(decimals)}`;
}
