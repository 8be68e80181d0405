import type { Command } from "commander";
import { manualText, usualExits } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";

/** The texts of `frontpace report`, as given. */
export interface ReportArguments {
  readonly out?: string;
  readonly quiet?: boolean;
}

const manual = manualText({
  notes: [
    "The page holds the answer, the pictures that prove it, the uncertainty, the warnings and what it was measured from. It is one file, needs no network and no script, and prints on A4 and Letter. The footage is not needed: the pictures are those that measure wrote beside the result.",
  ],
  example: { lines: ["frontpace report tile-07-frontpace/result.json"] },
  exitCodes: { 0: "written", ...usualExits },
  closing: "Not for legal or safety certification.",
});

/** `frontpace report` and its options; what it does is passed in. */
export function addReportCommand(
  program: Command,
  action: (result: string, options: ReportArguments) => Promise<void>,
): void {
  program
    .command("report")
    .description("Writes one page about a measured take: the answer, what proves it, and how far to trust it")
    .argument("<result>", "result.json that frontpace measure wrote, or its folder")
    .addOption(single("--out <folder>", "folder for report.html (default: beside the result)"))
    .option("--quiet", "no cautions on the screen")
    .addHelpText("after", manual)
    .action((result: string, options: ReportArguments) => action(result, options));
}
