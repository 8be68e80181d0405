import { type Explanation, explainError } from "./explain-error.js";
import { plainBudget } from "./measure/plain-budget.js";
import { buildProgram } from "./program.js";
import { exitCodeOf, exitCodes } from "./terminal/exit-code.js";
import { complain, type RunContext } from "./terminal/io.js";

/** Runs the command with the arguments behind its name. Results go to `stdout`, everything else to `stderr`.
 *  @returns the exit code; never throws */
export async function run(argv: readonly string[], context: RunContext): Promise<number> {
  let code: number = exitCodes.measured;
  let args: Readonly<Record<string, unknown>> = {};
  let kept = "no file was written";
  const program = buildProgram(context, {
    async measure(take, options) {
      args = { ...options };
      const { measureAction } = await import("./measure/measure-action.js");
      code = exitCodeOf(await measureAction(take, options, context));
    },
    async batch(folder, options) {
      args = { ...options };
      kept = "the takes that were done are kept, and run again it goes on";
      const { batchAction } = await import("./batch/batch-action.js");
      code = await batchAction(folder, options, context);
    },
    async report(result, options) {
      args = { ...options };
      const { reportAction } = await import("./report/report-action.js");
      await reportAction(result, options, context);
    },
    async overlay(result, options) {
      args = { ...options };
      const { overlayAction } = await import("./overlay/overlay-action.js");
      await overlayAction(result, options, context);
    },
    async find(take, options) {
      args = { ...options };
      const { findAction } = await import("./find/find-action.js");
      const found = await findAction(take, options, context);
      code = found ? exitCodes.measured : exitCodes.notMeasured;
    },
    async compare(plan, result, options) {
      args = { ...options };
      const { compareAction } = await import("./compare/compare-action.js");
      const held = await compareAction(plan, result, options, context);
      code = held ? exitCodes.measured : exitCodes.notMeasured;
    },
    async plan(options) {
      args = { ...options };
      const { planAction } = await import("./plan/plan-action.js");
      code = (await planAction(options, context)) ? exitCodes.measured : exitCodes.usage;
    },
    async check(take, plan, options) {
      args = { ...options };
      const { checkAction } = await import("./check/check-action.js");
      const passed = await checkAction(take, plan, options, context);
      code = passed ? exitCodes.measured : exitCodes.notMeasured;
    },
    async calibrate(stills, options) {
      args = { ...options };
      const { calibrateAction } = await import("./calibrate/calibrate-action.js");
      await calibrateAction(stills, options, context);
    },
    async completion(shell, program) {
      const { completionScript } = await import("./completion/completion-script.js");
      context.stdout.write(completionScript(shell, program));
    },
  });
  try {
    await program.parseAsync(plainBudget(argv), { from: "user" });
    return code;
  } catch (error) {
    const help = helpExitCode(error);
    if (help !== null) return help;
    if (context.signal?.aborted) {
      report({ code: "interrupted", message: `interrupted: ${kept}`, fault: false }, argv, context);
      return exitCodes.interrupted;
    }
    const explanation = explainError(error, args);
    report(explanation, argv, context);
    if (explanation.fault && (context.env ?? process.env).FRONTPACE_DEBUG && error instanceof Error) {
      context.stderr.write(`${error.stack}\n`);
    }
    return explanation.fault ? exitCodes.fault : exitCodes.usage;
  }
}

/** One error: with --json an object on standard output, otherwise a line on standard error. */
function report({ code, message }: Explanation, argv: readonly string[], context: RunContext): void {
  const end = argv.indexOf("--");
  if (argv.slice(0, end < 0 ? argv.length : end).includes("--json")) {
    context.stdout.write(`${JSON.stringify({ error: { code, message } }, null, 2)}\n`);
  } else {
    complain(context, message);
  }
}

/** Help or version was printed because it was asked for, or help because no command was named.
 *  @returns null for everything else */
function helpExitCode(error: unknown): number | null {
  const { code } = error as { code?: unknown };
  if (code === "commander.helpDisplayed" || code === "commander.version") return exitCodes.measured;
  if (code === "commander.help")
    return (error as { exitCode: number }).exitCode === 0 ? exitCodes.measured : exitCodes.usage;
  return null;
}
