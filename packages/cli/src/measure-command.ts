import type { Command } from "commander";
import { addMeasureOptions, quantitiesText } from "./add-measure-options.js";
import type { MeasureTexts } from "./measure-options.js";
import { single } from "./single-option.js";

/** The texts of `frontpace measure`, as given. */
export interface MeasureArguments extends MeasureTexts {
  readonly json?: boolean;
  readonly budget?: boolean;
  readonly quiet?: boolean;
  /** Default: true. */
  readonly pictures?: boolean;
  /** Default: true, where there are pictures. */
  readonly report?: boolean;
  readonly out?: string;
}

const texts = `${quantitiesText}What is not given here is taken from take.json in the folder of the take, or NAME.take.json beside its file.

Exit codes: 0 measured; 3 only a lower bound, or no front found; 2 the command line or an input is wrong;
130 interrupted; 1 a fault of the program. They say whether it measured: a plan that did not hold (--plan) is a
warning, and frontpace compare exits 3 on it.
Not for legal or safety certification.`;

/** `frontpace measure` and its options; what it does is passed in. */
export function addMeasureCommand(
  program: Command,
  action: (take: string, options: MeasureArguments) => Promise<void>,
): void {
  const command = program
    .command("measure")
    .description(
      "Measures one take: a folder of numbered stills (PNG, JPEG, TIFF, WebP), or one file of frames (multi-page TIFF, NumPy array, YUV4MPEG2, clip, raw samples)",
    )
    .argument("<take>", "folder or file of the take");
  addMeasureOptions(command)
    .option("--budget", "print every line of the uncertainty budget, and why others are not in it")
    .option("--no-pictures", "write no pictures, and no report, which shows them")
    .option("--no-report", "write no report.html: frontpace report writes it later from the pictures")
    .option("--json", "print the result as one JSON object, errors too")
    .option("--quiet", "no cautions on the screen")
    .addOption(single("--out <folder>", "folder for the files (default: NAME-frontpace beside the take)"))
    .addHelpText("after", texts)
    .action((take: string, options: MeasureArguments) => action(take, options));
}
