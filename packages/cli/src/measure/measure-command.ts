import type { Command } from "commander";
import { longExits, manualText } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";
import { addMeasureOptions, quantityNotes } from "./add-measure-options.js";
import type { MeasureTexts } from "./measure-options.js";

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

const manual = manualText({
  notes: [
    ...quantityNotes,
    "What is not given here is taken from take.json in the folder of the take, or NAME.take.json beside its file.",
  ],
  example: {
    of: "stills at 800,000 frames/s, 0.2 mm a pixel, the front followed along a line",
    lines: ["frontpace measure tile-07 --rate 800k+-0.01% --scale 0.2mm+-0.5% \\", "  --path 12,40:1180,52"],
  },
  exitCodes: {
    0: "measured, whether a plan (--plan) held or not: frontpace compare exits 3 where it did not",
    3: "only a lower bound, or no front found",
    ...longExits,
  },
  closing: "Not for legal or safety certification.",
});

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
    .option(
      "--budget",
      "print every line of the uncertainty budget, and why others are not in it; also as --budget all",
    )
    .option("--no-pictures", "write no pictures, and no report, which shows them")
    .option("--no-report", "write no report.html: frontpace report writes it later from the pictures")
    .option("--json", "print the result as one JSON object, errors too")
    .option("--quiet", "no cautions on the screen")
    .addOption(single("--out <folder>", "folder for the files (default: NAME-frontpace beside the take)"))
    .addHelpText("after", manual)
    .action((take: string, options: MeasureArguments) => action(take, options));
}
