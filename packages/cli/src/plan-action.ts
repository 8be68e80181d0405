import { basename, dirname, extname, join, relative, resolve } from "node:path";
import { planModes } from "@frontpace/planner";
import { assemblePlan, prepareOutput, writeOutputs } from "@frontpace/take";
import { describeCautions } from "./cautions.js";
import { CliError } from "./cli-error.js";
import { describePlan } from "./describe-plan.js";
import { drawPlanPicture } from "./draw-plan-picture.js";
import { complain, type RunContext } from "./io.js";
import type { PlanArguments } from "./plan-command.js";
import { planInputs } from "./plan-inputs.js";

/** `frontpace plan`: holds the modes of a camera against a wish, writes plan and picture, prints all modes. Where none meets the wish
 *  nothing is written, and what to relax is the error.
 *  @returns whether a mode meets the wish
 *  @throws CliError, PlannerError, TakeError; `signal.reason` when stopped */
export async function planAction(args: PlanArguments, context: RunContext): Promise<boolean> {
  const { signal, stdout } = context;
  const { modes: list } = args;
  if (list === undefined)
    throw new CliError(
      "option-missing",
      "--modes is missing: name the list of the camera's recording modes, for example --modes camera.csv",
    );
  const { modes, subject } = await planInputs({ ...args, modes: list });
  const { report, plan } = assemblePlan(planModes(modes, subject.request), subject);
  let files: readonly string[] = [];
  if (plan !== null) {
    const out = outputFolder(list, args.out);
    await prepareOutput(out);
    const contents = {
      "plan.json": `${JSON.stringify(plan, null, 2)}\n`,
      "plan.svg": await drawPlanPicture(report),
    };
    await writeOutputs(out, contents, signal ? { signal } : {});
    files = Object.keys(contents).map((file) => join(out, file));
  }
  const error =
    report.relax === null
      ? null
      : { code: "no-mode-meets", message: `no mode meets the wish: ${report.relax}` };
  if (args.json) {
    stdout.write(`${JSON.stringify({ ...report, ...(error && { error }) }, null, 2)}\n`);
    return plan !== null;
  }
  const lines = describePlan(report, basename(list), files);
  stdout.write(`${[...lines, ...(args.quiet ? [] : ["", ...describeCautions()])].join("\n")}\n`);
  if (error) complain(context, error.message);
  return plan !== null;
}

function outputFolder(modes: string, out: string | undefined): string {
  if (out === "") throw new CliError("invalid-option", "--out must name a folder, got an empty text");
  const name = basename(modes, extname(modes));
  return relative(process.cwd(), resolve(out ?? join(dirname(modes), `${name}-plan`))) || ".";
}
