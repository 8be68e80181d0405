import type { Command } from "commander";
import { manualText, usualExits } from "../arguments/manual-text.js";
import { single } from "../arguments/single-option.js";
import type { PlanTexts } from "./plan-options.js";

/** The texts of `frontpace plan`, as given. */
export interface PlanArguments extends PlanTexts {
  readonly modes?: string;
  readonly rows?: string;
  readonly earlier?: string;
  readonly take?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

const manual = manualText({
  notes: [
    "The list of modes is comma-separated, with a header: columns,rows,max_rate[,bits][,min_exposure], in px, px, frames per second, bits of a sample in memory, seconds. Lines that begin with # are passed over.",
    "Frames across, step, blur and uncertainty are for the fastest expected speed, the length of the event for the slowest. The uncertainty needs --step-to-noise with --good-exposure, or --earlier. It is of image noise only, unless --earlier gives wander, scale and rate.",
  ],
  example: {
    of: "an invented camera and a tile that is to split at 1200 to 1600 m/s over 300 mm",
    lines: [
      "frontpace plan --modes fixtures/invented-camera.csv \\",
      "  --speed 1200..1600m/s --length 300mm --frames-across 20 --blur 3px \\",
      "  --memory 64GB --reaction 0.5s --playback 25",
    ],
  },
  exitCodes: {
    0: "a mode meets the wish",
    ...usualExits,
    2: "none does, or the command line or an input is wrong",
  },
});

/** `frontpace plan` and its options; what it does is passed in. */
export function addPlanCommand(program: Command, action: (options: PlanArguments) => Promise<void>): void {
  program
    .command("plan")
    .description("Chooses the recording mode for a take: what each mode of a camera would show of the front")
    .addOption(single("--modes <file>", "list of the camera's recording modes, CSV (required)"))
    .addOption(single("--speed <speed>", "expected speed, or a range low..high, for example 1200..1600m/s"))
    .addOption(
      single(
        "--material <name>",
        "take the expected speed from the published ones of cracks in this material",
      ),
    )
    .addOption(
      single("--length <length>", "length over which the front is to be followed, for example 300mm"),
    )
    .addOption(
      single(
        "--along <side>",
        "columns or rows: which side of the picture the front runs along (default: columns)",
        ["columns", "rows"],
      ),
    )
    .addOption(
      single(
        "--scale <length>",
        "length of one pixel, where the optics stay (default: the length fills that side)",
      ),
    )
    .addOption(
      single(
        "--frames-across <n>",
        "frames in which the front is wanted in the picture (default: 3, fewer bound the speed only)",
      ),
    )
    .addOption(single("--blur <px>", "way of the front during the exposure, at most"))
    .addOption(
      single(
        "--exposure <time>",
        "exposure (default: the longest that --blur allows, else the whole interval)",
      ),
    )
    .addOption(
      single("--exposure-fraction <part>", "exposure as a part of the frame interval, for example 50%"),
    )
    .addOption(single("--memory <size>", "what the memory holds, for example 16GB or 2s"))
    .addOption(
      single(
        "--reaction <time>",
        "time between event and trigger, at most: places the trigger in the memory",
      ),
    )
    .addOption(
      single("--playback <rate>", "frames shown per second: how long the memory lasts on the screen"),
    )
    .addOption(
      single("--good-exposure <time>", "an exposure that was known to be good: light is counted from it"),
    )
    .addOption(single("--light <times>", "light now against that of the good exposure (default: 1x)"))
    .addOption(single("--stops <n>", "loss of exposure against the good one, at most"))
    .addOption(
      single("--step-to-noise <ratio>", "step of the front over the noise of a pixel, at the good exposure"),
    )
    .addOption(
      single(
        "--noise <kind>",
        "shot or read: what rules the noise, light or the sensor's reading (default: shot)",
        ["shot", "read"],
      ),
    )
    .addOption(single("--edge-blur <px>", "standard deviation of the edge at rest (default: 1px)"))
    .addOption(single("--width <px>", "width averaged across the path (default: 15, as measure has it)"))
    .addOption(
      single("--uncertainty <part>", "relative standard uncertainty of the speed, at most, for example 0.5%"),
    )
    .addOption(
      single(
        "--earlier <file>",
        "result.json of an earlier take, or its folder: step to noise, blur, wander, scale and rate from there",
      ),
    )
    .addOption(
      single("--mains <Hz>", "50 or 60: frequency of the mains, for the flicker of lamps (default: both)", [
        "50",
        "60",
      ]),
    )
    .addOption(
      single(
        "--rows <heights>",
        "further heights between listed ones, for example 700,500: their rates are interpolated",
      ),
    )
    .addOption(
      single("--take <name>", "name of the take that is planned: compare then refuses the result of another"),
    )
    .option("--quiet", "no cautions on the screen")
    .option("--json", "print all modes as one JSON object, errors too")
    .addOption(
      single("--out <folder>", "folder for plan.json and plan.svg (default: NAME-plan beside the list)"),
    )
    .addHelpText("after", manual)
    .action((options: PlanArguments) => action(options));
}
