import type { Command } from "commander";
import { longExits, manualText } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";
import { addMeasureOptions, quantityNotes } from "../measure/add-measure-options.js";
import type { MeasureTexts } from "../measure/measure-options.js";

/** The texts of `frontpace batch`, as given. */
export interface BatchArguments extends MeasureTexts {
  readonly workers?: string;
  readonly watch?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
  /** Default: true. */
  readonly pictures?: boolean;
  /** Default: true, where there are pictures. */
  readonly report?: boolean;
  readonly out?: string;
}

const manual = manualText({
  notes: [
    "Takes are folders of numbered stills and files of frames. What is given here holds for takes that do not say otherwise: a take.json goes over it, for its folder and all below, and the nearest one over those higher up.",
    "The measured takes of one folder are read as repeats of one event, and their mean is in the summary: keep takes of different events in folders of their own.",
    "Stopped at any moment and run again, it goes on: a take whose frames, options and program version are the same is not measured again.",
    ...quantityNotes,
  ],
  example: {
    of: "all takes of a day, filmed with one rate and one scale",
    lines: ["frontpace batch quench-day --rate 500k+-0.01% --scale 0.3mm+-0.3%"],
  },
  exitCodes: {
    0: "all takes were measured",
    3: "some were not: only a lower bound, or no front found",
    ...longExits,
    1: "some takes failed, or a fault of the program",
    130: "interrupted; the takes that were done are kept",
  },
  closing: "Not for legal or safety certification.",
});

/** `frontpace batch` and its options; what it does is passed in. */
export function addBatchCommand(
  program: Command,
  action: (folder: string, options: BatchArguments) => Promise<void>,
): void {
  const command = program
    .command("batch")
    .description("Measures every take below a folder, several at once, and sums them up")
    .argument("<folder>", "folder that holds the takes");
  addMeasureOptions(command)
    .addOption(single("--workers <n>", "takes measured at once (default: as many as there are processors)"))
    .option("--watch", "go on, and measure takes as they arrive, each once it has stopped growing")
    .option("--no-pictures", "write no pictures, and no reports, which show them")
    .option("--no-report", "write no report.html for the takes")
    .option("--json", "print the summary as one JSON object, errors too")
    .option("--quiet", "no cautions on the screen")
    .addOption(single("--out <folder>", "folder for the files (default: FOLDER-frontpace beside it)"))
    .addHelpText("after", manual)
    .action((folder: string, options: BatchArguments) => action(folder, options));
}
