import type { Command } from "commander";
import { manualText, usualExits } from "../arguments/manual-text.js";

/** The texts of `frontpace compare`, as given. */
export interface CompareArguments {
  readonly json?: boolean;
  readonly quiet?: boolean;
}

const manual = manualText({
  notes: [
    "Held: as planned, or no further off than the uncertainty allows. Exceeded, fell short: what was observed is more, or less, than planned; that counts against the plan where it is to the take's disadvantage.",
  ],
  example: {
    of: "the plan of a take and what was measured in it",
    lines: ["frontpace compare tile-07-plan/plan.json tile-07-frontpace/result.json"],
  },
  exitCodes: {
    0: "the plan held",
    3: "it did not",
    ...usualExits,
    2: "the command line or an input is wrong, or plan and result are of different takes",
  },
});

/** `frontpace compare` and its options; what it does is passed in. */
export function addCompareCommand(
  program: Command,
  action: (plan: string, result: string, options: CompareArguments) => Promise<void>,
): void {
  program
    .command("compare")
    .description(
      "Holds a plan against the result of its take: what held, what did not and why, what to set next",
    )
    .argument("<plan>", "plan.json that frontpace plan wrote")
    .argument("<result>", "result.json that frontpace measure wrote, or its folder")
    .option("--json", "print the comparison as one JSON object, errors too")
    .option("--quiet", "no cautions on the screen")
    .addHelpText("after", manual)
    .action((plan: string, result: string, options: CompareArguments) => action(plan, result, options));
}
