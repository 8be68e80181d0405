import { programVersion } from "@frontpace/take";
import { Command } from "commander";
import { addBatchCommand, type BatchArguments } from "./batch-command.js";
import { addCalibrateCommand, type CalibrateArguments } from "./calibrate-command.js";
import { addCheckCommand, type CheckArguments } from "./check-command.js";
import { addCompareCommand, type CompareArguments } from "./compare-command.js";
import { addFindCommand, type FindArguments } from "./find-command.js";
import type { RunContext } from "./io.js";
import { addMeasureCommand, type MeasureArguments } from "./measure-command.js";
import { addOverlayCommand, type OverlayArguments } from "./overlay-command.js";
import { addPlanCommand, type PlanArguments } from "./plan-command.js";
import { addReportCommand, type ReportArguments } from "./report-command.js";

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
}

/** The commands and their options; what they do is passed in. */
export function buildProgram({ stdout, stderr }: RunContext, actions: Actions): Command {
  const program = new Command("frontpace")
    .description("Measures how fast a front ran, in m/s, from the frames of a high-speed camera")
    .version(programVersion)
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
  return program;
}
