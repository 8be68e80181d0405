import { basename, dirname, extname, join, relative, resolve } from "node:path";
import { planModes } from "@frontpace/planner";
import { assemblePlan, prepareOutput, writeOutputs } from "@frontpace/take";
import { describeCautions } from "../terminal/cautions.js";
import { CliError } from "../terminal/cli-error.js";
import { complain, type RunContext } from "../terminal/io.js";
import { describePlan } from "./describe-plan.js";
import { drawPlanPicture } from "./draw-plan-picture.js";
import type { PlanArguments } from "./plan-command.js";
import { planInputs } from "./plan-inputs.js";

/** The picture where no mode meets the wish, by a name of its own: an earlier plan and its picture stay together. */
const UNMET = "plan-unmet.svg";

/** `frontpace plan`: holds the modes of a camera against a wish, writes plan and picture, prints all modes. Where none meets the wish
 *  only the picture is written, and what to relax is the error.
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
  const out = outputFolder(list, args.out);
  await prepareOutput(out);
  const picture = await drawPlanPicture(report);
  const contents =
    plan === null
      ? { [UNMET]: picture }
      : { "plan.json": `${JSON.stringify(plan, null, 2)}\n`, "plan.svg": picture };
  await writeOutputs(out, contents, { stale: plan === null ? [] : [UNMET], ...(signal && { signal }) });
  const files = Object.keys(contents).map((file) => join(out, file));
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
