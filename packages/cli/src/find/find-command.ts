import type { Command } from "commander";
import { addFootageOptions } from "../arguments/footage-options.js";
import { longExits, manualText } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";
import type { FindTexts } from "./find-options.js";

/** The texts of `frontpace find`, as given. */
export interface FindArguments extends FindTexts {
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
  readonly copy?: string;
  readonly event?: string;
  readonly margin?: string;
}

const manual = manualText({
  notes: [
    "Frames far apart are read first, and more only where something changes. What stays (a crack) is found in a take of any length; what leaves nothing behind (a passing shock, dust) where it lasts --shortest frames or more. Where something stays was found, the rest of a long take is not searched for it unless --thorough asks for that.",
    "What is not given here is taken from take.json in the folder of the take, or NAME.take.json beside its file.",
  ],
  example: {
    of: "a take of which only the file is known, its event copied out and measured",
    lines: [
      "frontpace find tile.bin --raw 1280x72:u16le --rate 500k --copy tile-split",
      "frontpace measure tile-split --scale 0.2mm",
    ],
  },
  exitCodes: { 0: "found", 3: "nothing found", ...longExits },
});

/** `frontpace find` and its options; what it does is passed in. */
export function addFindCommand(
  program: Command,
  action: (take: string, options: FindArguments) => Promise<void>,
): void {
  const command = program
    .command("find")
    .description(
      "Finds where in a long take something happens, reading few of its frames; a take is what measure takes",
    )
    .argument("<take>", "folder or file of the take")
    .addOption(
      single("--rate <rate>", "recording rate, frames per second: gives times, and --shortest its default"),
    )
    .addOption(
      single(
        "--shortest <frames>",
        "what lasts at least so many frames and leaves nothing behind is caught (default: 64 us at the rate, at least 8 frames; 32 frames where the rate is not known)",
      ),
    )
    .option("--thorough", "look for what leaves nothing behind in any case")
    .addOption(
      single("--path <points>", "x1,y1:x2,y2 px: look only about this line (default: the whole picture)"),
    )
    .addOption(single("--width <px>", "width of the band about the path (default: 15)"))
    .addOption(
      single(
        "--region <corners>",
        "x1,y1:x2,y2 whole px, both included: look only at this part of the picture",
      ),
    );
  addFootageOptions(command, "looked at")
    .option("--json", "print the events as one JSON object, errors too")
    .option("--quiet", "no cautions on the screen")
    .addOption(
      single(
        "--out <folder>",
        "folder for events.json and activity.svg (default: NAME-frontpace beside the take)",
      ),
    )
    .addOption(
      single(
        "--copy <folder>",
        "copy the frames of one event, with what is known of the take, into this new folder: a take of its own",
      ),
    )
    .addOption(single("--event <n>", "which event is copied, as listed (default: 1, the strongest)"))
    .addOption(
      single(
        "--margin <frames>",
        "frames copied on either side of the event (default: as many as it has, but 50 to 500)",
      ),
    )
    .addHelpText("after", manual)
    .action((take: string, options: FindArguments) => action(take, options));
}
