import type { Command } from "commander";
import { addFootageOptions } from "../arguments/footage-options.js";
import { longExits, manualText } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";
import type { CheckTexts } from "./check-options.js";

/** The texts of `frontpace check`, as given. */
export interface CheckArguments extends CheckTexts {
  readonly quiet?: boolean;
  readonly json?: boolean;
  readonly out?: string;
}

const manual = manualText({
  notes: [
    "Film some hundred frames in which nothing runs, with camera, lamps and mode as for the event. A single still (PNG, JPEG, WebP) tells focus, exposure and pattern. Each line is pass or warn, with what to change; a dash marks what the frames given do not tell. --clock measures the recording rate and prints the --rate that measure takes.",
    "check.json and the first frame, as reference still, are kept in the folder for the files, beside the take.",
  ],
  example: {
    of: "before the tile breaks, with a lamp of 1 kHz in the corner of the picture",
    lines: [
      "frontpace check dry-run plan.json --rate 100k --path 12,40:1180,52 \\",
      "  --clock 1kHz+-0.001% --lamp 0,0:40,40",
    ],
  },
  exitCodes: { 0: "no line warns", 3: "one does", ...longExits },
});

/** `frontpace check` and its options; what it does is passed in. */
export function addCheckCommand(
  program: Command,
  action: (take: string, plan: string | undefined, options: CheckArguments) => Promise<void>,
): void {
  const command = program
    .command("check")
    .description(
      "The dry check before a take: focus, light, noise, frames, camera, and the mode against the plan",
    )
    .argument("<take>", "a still, or folder or file of a take in which nothing runs")
    .argument("[plan]", "plan.json that the mode is held against")
    .addOption(single("--rate <rate>", "recording rate as the camera states it, frames per second"))
    .addOption(single("--exposure <time>", "time during which each frame collects light, for example 1us"))
    .addOption(
      single("--path <points>", "x1,y1:x2,y2 px: where the front will run (default: the whole picture)"),
    )
    .addOption(single("--width <px>", "width of the band about the path (default: 15)"))
    .addOption(single("--clock <frequency>", "frequency of a lamp in the picture, for example 1kHz+-0.001%"))
    .addOption(single("--lamp <corners>", "x1,y1:x2,y2 whole px: the part that shows it (default: all)"));
  addFootageOptions(command, "looked at")
    .option("--quiet", "no cautions on the screen")
    .option("--json", "print check.json, errors as JSON too")
    .addOption(single("--out <folder>", "folder for the files (default: NAME-frontpace beside the take)"))
    .addHelpText("after", manual)
    .action((take: string, plan: string | undefined, options: CheckArguments) => action(take, plan, options));
}
