import { type Command, Option } from "commander";
import { longExits, manualText } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";
import type { CalibrateTexts } from "./calibrate-options.js";

/** The texts of `frontpace calibrate`, as given. */
export interface CalibrateArguments extends CalibrateTexts {
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

const manual = manualText({
  notes: [
    "Give one of: --length with --between (again for more lengths), --point four times or more, --corners with --square, --dots with --pitch. With one of the latter two and several stills --lens tells the distortion of the lens.",
    "+- states ONE STANDARD UNCERTAINTY (k = 1), absolute or in percent; left out it counts as unknown, +-0 as exact. Points are in px, x to the right and y down, whole numbers are pixel centres. Of several stills the first holds the plane in which the event will run; without --lens the others repeat it, with --lens they show the grid in other poses.",
  ],
  example: {
    of: "a printed checkerboard, found without clicks",
    lines: ["frontpace calibrate grid.png --corners 9x6 --square 10mm+-0.005mm"],
  },
  exitCodes: {
    0: "calibrated",
    ...longExits,
    2: "the command line or an input is wrong, or the grid is not seen as it is described",
  },
});

/** `frontpace calibrate` and its options; what it does is passed in. */
export function addCalibrateCommand(
  program: Command,
  action: (stills: string[], options: CalibrateArguments) => Promise<void>,
): void {
  program
    .command("calibrate")
    .description("Sets the scale from stills of something of known size, for measure --calibration")
    .argument("<still...>", "pictures: PNG, JPEG, TIFF, WebP")
    .addOption(repeated("--length <length>", "a known length between two points of the picture"))
    .addOption(repeated("--between <points>", "x1,y1:x2,y2 px: the ends of that length"))
    .addOption(
      repeated("--point <px:lengths>", "x,y:X,Y, for example 12,40:0mm,150mm: a known point of the plane"),
    )
    .addOption(
      single(
        "--points-uncertainty <part>",
        "of the lengths between those points, relative, for example 0.1%",
      ),
    )
    .addOption(single("--corners <AxB>", "checkerboard of so many inner corners, for example 9x6"))
    .addOption(single("--square <length>", "side of one of its squares"))
    .addOption(single("--dots <AxB>", "grid of so many dots, for example 7x5"))
    .addOption(single("--pitch <length>", "distance of neighbouring dots"))
    .addOption(single("--pointing <px>", "uncertainty of a coordinate marked by hand (default: 0.5)"))
    .option("--lens", "find the radial distortion of the lens, from all stills of the grid")
    .addOption(
      single(
        "--sensor <AxB>",
        "columns and rows of the sensor: where the stills show a part of it for --lens; a take beyond it is refused",
      ),
    )
    .addOption(
      single("--sensor-offset <x,y>", "sensor pixel in the top left corner of the stills (default: 0,0)"),
    )
    .addOption(
      single("--binning <n>", "sensor pixels to one of the stills, in either direction (default: 1)"),
    )
    .addOption(single("--distance <length>", "from the camera's lens to the standard"))
    .addOption(
      single(
        "--depth-offset <length>",
        "how much farther than the standard the event runs; negative: nearer",
      ),
    )
    .addOption(
      single(
        "--window <thickness,index>",
        "window before the event that was not before the standard, for example 10mm+-0.1mm,1.52+-0.01",
      ),
    )
    .addOption(
      single(
        "--medium <name[,depth]>",
        "air, water or an index: what the event runs in; with a depth, how deep behind the surface, where the standard was in air (default: air)",
      ),
    )
    .option("--quiet", "no cautions on the screen")
    .option("--json", "print scale.json, errors as JSON too")
    .addOption(single("--out <folder>", "folder for the files (default: NAME-scale beside the first still)"))
    .addHelpText("after", manual)
    .action((stills: string[], options: CalibrateArguments) => action(stills, options));
}

/** An option that may be given several times. */
function repeated(flags: string, description: string): Option {
  return new Option(flags, description).argParser((text: string, earlier: string[] = []) => [
    ...earlier,
    text,
  ]);
}
