import type { Command } from "commander";
import { longExits, manualText } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";
import { COLOURS } from "./colours.js";

/** The texts of `frontpace overlay`, as given. */
export interface OverlayArguments {
  readonly as?: string;
  readonly take?: string;
  readonly out?: string;
  readonly margin?: string;
  readonly textSize?: string;
  readonly colour?: string;
  readonly enlarge?: string;
  readonly play?: string;
  readonly quiet?: boolean;
}

const manual = manualText({
  notes: [
    "png is a folder of pictures with transparency, of the footage's own size, to be laid over the original in any editor: the number in a file's name is that of its frame. webp, gif and mp4 have the footage below, in one contrast of grey, so that it must be there; mp4 needs ffmpeg on the PATH.",
    "Text, scale bar and numbers never cover the front: they stand where it does not come, become smaller, change their place once or twice, or are left out, and what was done is said. Distance and time count from the first frame in which the front was read. A dashed front stands where the fit has it, because the reading of that frame was rejected; in frames without a reading there is no front, and a dash in place of the distance. A lower bound shows what is known of it, and no front; where several fronts were seen and none was chosen, all are drawn with their numbers. Where none was found there is nothing to draw (exit 2).",
  ],
  example: { lines: ["frontpace overlay tile-07-frontpace --as png,webp --colour white"] },
  exitCodes: { 0: "written", ...longExits },
  closing: "Not for legal or safety certification. People and premises may be visible in webp, gif and mp4.",
});

/** `frontpace overlay` and its options; what it does is passed in. */
export function addOverlayCommand(
  program: Command,
  action: (result: string, options: OverlayArguments) => Promise<void>,
): void {
  program
    .command("overlay")
    .description(
      "Draws the front, its speed, the distance run, the time and a scale bar over the frames of an event",
    )
    .argument("<result>", "result.json that frontpace measure wrote, or its folder")
    .addOption(
      single("--as <kinds>", "png, webp, gif, mp4, or several as png,webp (default: png)", [
        "png",
        "webp",
        "gif",
        "mp4",
      ]),
    )
    .addOption(
      single(
        "--take <path>",
        "folder or file of the footage, for webp, gif and mp4 (default: the one that the result's folder lies beside)",
      ),
    )
    .addOption(
      single("--out <folder>", "folder for overlay/, overlay.webp and so on (default: beside the result)"),
    )
    .addOption(
      single(
        "--margin <frames>",
        "frames before and after the event, as far as it was measured (default: 10)",
      ),
    )
    .addOption(
      single(
        "--text-size <px>",
        "height of the letters, px of the picture that is written, at most (default: by its size, 9 to 40)",
      ),
    )
    .addOption(
      single(
        "--colour <colour>",
        "of front, text and scale bar: amber, white, yellow, green, cyan, magenta, red, black, or #rrggbb; its rim is black or white (default: amber)",
        Object.keys(COLOURS),
      ),
    )
    .addOption(
      single(
        "--enlarge <n>",
        "webp, gif, mp4: px in the side of a pixel of the footage, a whole number (default: until the longer side has 640)",
      ),
    )
    .addOption(
      single(
        "--play <rate>",
        "webp, gif, mp4: frames shown in a second (default: 10 to 25, for a length of about 8 s)",
      ),
    )
    .option("--quiet", "no cautions on the screen")
    .addHelpText("after", manual)
    .action((result: string, options: OverlayArguments) => action(result, options));
}
