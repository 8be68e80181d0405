import { programVersion } from "@frontpace/take";
import { Command } from "commander";
import { longExits, manualText } from "./arguments/manual-text.js";
import { addBatchCommand, type BatchArguments } from "./batch/batch-command.js";
import { addCalibrateCommand, type CalibrateArguments } from "./calibrate/calibrate-command.js";
import { addCheckCommand, type CheckArguments } from "./check/check-command.js";
import { addCompareCommand, type CompareArguments } from "./compare/compare-command.js";
import { addCompletionCommand } from "./completion-command.js";
import { addFindCommand, type FindArguments } from "./find/find-command.js";
import { addMeasureCommand, type MeasureArguments } from "./measure/measure-command.js";
import { addOverlayCommand, type OverlayArguments } from "./overlay/overlay-command.js";
import { addPlanCommand, type PlanArguments } from "./plan/plan-command.js";
import { addReportCommand, type ReportArguments } from "./report/report-command.js";
import type { RunContext } from "./terminal/io.js";

export interface Actions {
  report(result: string, options: ReportArguments): Promise<void>;
  overlay(result: string, options: OverlayArguments): Promise<void>;
  measure(take: string, options: MeasureArguments): Promise<void>;
  batch(folder: string, options: BatchArguments): Promise<void>;
  find(take: string, options: FindArguments): Promise<void>;
  plan(options: PlanArguments): Promise<void>;
  compare(plan: string, result: string, options: CompareArguments): Promise<void>;
  check(take: string, plan: string | undefined, options: CheckArguments): Promise<void>;
  calibrate(stills: readonly string[], options: CalibrateArguments): Promise<void>;
  completion(shell: string, program: Command): Promise<void>;
}

const manual = manualText({
  notes: [
    "frontpace COMMAND --help is the manual of a command. A take is a folder of numbered stills or one file of frames; what is known of it may stand in a take.json in the folder.",
    "Results go to standard output, warnings and progress to standard error. Not for legal or safety certification.",
    "Environment: NO_COLOR takes the colour out of messages, FRONTPACE_DEBUG=1 shows where a fault of the program is.",
  ],
  example: { lines: ["frontpace measure tile-07 --rate 800k+-0.01% --scale 0.2mm+-0.5%"] },
  exitCodes: {
    0: "done: measured, found, planned, checked without a warning",
    3: "done, and the answer is no: not measured, nothing found, a line warns",
    ...longExits,
    1: "some takes of a batch failed, or a fault of the program",
  },
});

/** The commands and their options; what they do is passed in. */
export function buildProgram({ stdout, stderr }: RunContext, actions: Actions): Command {
  const program = new Command("frontpace")
    .description("Measures how fast a front ran, in m/s, from the frames of a high-speed camera")
    .version(programVersion)
    // Choices stand in the descriptions.
    .configureHelp({
      optionDescription: ({ description }) => description,
      argumentDescription: ({ description }) => description,
    })
    .addHelpText("after", manual)
    .exitOverride()
    .configureOutput({
      writeOut: (text) => stdout.write(text),
      writeErr: (text) => stderr.write(text),
      outputError: () => {},
    });

  addMeasureCommand(program, (take, options) => actions.measure(take, options));
  addReportCommand(program, (result, options) => actions.report(result, options));
  addOverlayCommand(program, (result, options) => actions.overlay(result, options));
  addBatchCommand(program, (folder, options) => actions.batch(folder, options));
  addFindCommand(program, (take, options) => actions.find(take, options));
  addPlanCommand(program, (options) => actions.plan(options));
  addCompareCommand(program, (plan, result, options) => actions.compare(plan, result, options));
  addCheckCommand(program, (take, plan, options) => actions.check(take, plan, options));
  addCalibrateCommand(program, (stills, options) => actions.calibrate(stills, options));
  addCompletionCommand(program, (shell) => actions.completion(shell, program));
  return program;
}
