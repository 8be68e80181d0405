import { basename, dirname, extname, join, relative, resolve } from "node:path";
import { calibrateStills, prepareOutput, writeOutputs } from "@frontpace/take";
import { cautions, describeCautions } from "../terminal/cautions.js";
import { CliError } from "../terminal/cli-error.js";
import { type RunContext, warn } from "../terminal/io.js";
import type { CalibrateArguments } from "./calibrate-command.js";
import { calibrateOptions } from "./calibrate-options.js";
import { describeScale } from "./describe-scale.js";
import { drawStills } from "./draw-stills.js";

/** `frontpace calibrate`: sets the scale, writes it with pictures of the points, prints it.
 *  @throws CliError, TakeError, CalibrationError, the frame loader's error; `signal.reason` when stopped */
export async function calibrateAction(
  stills: readonly string[],
  args: CalibrateArguments,
  context: RunContext,
): Promise<void> {
  const { signal, stdout } = context;
  const options = calibrateOptions(args);
  const out = outputFolder(stills[0], args.out);
  const calibration = await calibrateStills(stills, options, signal ? { signal } : {});
  const scale = { ...calibration.scale, cautions: [...cautions] };
  const json = `${JSON.stringify(scale, null, 2)}\n`;
  const files = { "scale.json": json, ...(await drawStills(calibration)) };
  await prepareOutput(out);
  await writeOutputs(out, files, signal ? { signal } : {});
  for (const { code, message } of scale.warnings) warn(context, `${code}: ${message}`);
  if (args.json) {
    stdout.write(json);
    return;
  }
  const written = Object.keys(files).map((name) => join(out, name));
  const lines = [
    ...describeScale(scale, written),
    `use it: frontpace measure TAKE --calibration ${join(out, "scale.json")}`,
    ...(args.quiet ? [] : ["", ...describeCautions()]),
  ];
  stdout.write(`${lines.join("\n")}\n`);
}

function outputFolder(still: string, out: string | undefined): string {
  if (out === "") throw new CliError("invalid-option", "--out must name a folder, got an empty text");
  const beside = join(dirname(still), `${basename(still, extname(still))}-scale`);
  return relative(process.cwd(), resolve(out ?? beside)) || ".";
}
