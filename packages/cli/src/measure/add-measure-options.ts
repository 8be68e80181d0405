import type { Command } from "commander";
import { addFootageOptions } from "../arguments/footage-options.js";
import { single } from "../arguments/single-option.js";

const MODELS = [
  "auto",
  "constant",
  "constant-acceleration",
  "accelerate-then-constant",
  "two-speeds",
  "terminal",
  "power-law",
  "decaying-shock",
];

/** How quantities are written: for the help of the commands that take these options. */
export const quantityNotes: readonly string[] = [
  "Quantities carry their unit. +- states ONE STANDARD UNCERTAINTY (k = 1), absolute or in percent:",
  "  --rate 800k    --rate 800kHz+-80       --rate 1.2M+-0.01%\n  --scale 0.2mm  --scale 1.93um+-0.01um  --scale 0.2mm+-0.5%",
  "Left out, the uncertainty counts as unknown and the result as a reading only; +-0 states on purpose that the value is exact.",
];

/** The options that can change the number, as `measureOptions` reads them. */
export function addMeasureOptions(command: Command): Command {
  command
    .addOption(single("--rate <rate>", "recording rate, frames per second"))
    .addOption(single("--scale <length>", "length of one pixel in the plane of the front"))
    .addOption(single("--calibration <file>", "scale.json of frontpace calibrate, in place of --scale"))
    .addOption(
      single(
        "--sensor-offset <x,y>",
        "sensor pixel in the top left corner of the frames, where the calibration is of another size",
      ),
    )
    .addOption(single("--binning <n>", "sensor pixels to one of the frames, in either direction"))
    .addOption(single("--medium <name>", "what the event runs in, as calibrated (default: air)"))
    .addOption(single("--path <points>", "x1,y1:x2,y2 px: follow the front along this line (default: found)"))
    .addOption(
      single(
        "--width <px>",
        "width of the band averaged across the path (default: 15 about a given path, else the whole picture)",
      ),
    )
    .addOption(
      single("--polarity <which>", "bright or dark: what the front leaves behind it (default: found)", [
        "bright",
        "dark",
      ]),
    )
    .addOption(
      single("--front <n>", "which of several fronts on the path, as listed (default: the only one)"),
    )
    .addOption(
      single(
        "--origin <x,y>",
        "where a circular front began, px, in the picture or outside (default: found)",
      ),
    )
    .addOption(
      single(
        "--cell <px>",
        "edge of the cells in which the front's arrival is timed, without --path (default: found)",
      ),
    );
  return addFootageOptions(command, "used")
    .option(
      "--map",
      "keep the arrival map, as arrays and pictures, also where the front is not followed by it, as with --path",
    )
    .addOption(
      single(
        "--model <name>",
        `${MODELS.slice(0, -1).join(", ")} or ${MODELS.at(-1)}: how the front moves (default: constant)`,
        MODELS,
      ),
    )
    .addOption(
      single(
        "--start-time <time>",
        "of power-law: when the front started, by the clock of frame 0 or of --timestamps (default: found)",
      ),
    )
    .addOption(
      single(
        "--air-temperature <t>",
        "of the air that a shock runs in, for example 20C+-0.5C: gives its Mach number; decaying-shock needs it",
      ),
    )
    .addOption(
      single(
        "--distance <length>",
        "from the camera to the centre of a sphere seen as a circle, for example 3.2m+-1cm: its limb is corrected",
      ),
    )
    .addOption(single("--timestamps <file>", "CSV table frame,time in seconds, in place of number/rate"))
    .addOption(
      single("--row-time <time>", "time from row to row on a rolling-shutter camera (default: all at once)"),
    )
    .addOption(single("--exposure <time>", "time during which each frame collects light, for example 1us"))
    .addOption(
      single("--light-pulse <time>", "length of the light pulse, where light is pulsed: it rules the blur"),
    )
    .addOption(single("--plan <file>", "plan.json of this take: it is held against what was observed"))
    .addOption(
      single(
        "--material <name>",
        "what cracks: the speed as a share of its Rayleigh speed, for example soda-lime-glass",
      ),
    );
}
