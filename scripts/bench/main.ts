/** Speed and scale as ratios, measured side by side in one run on data that is made for it.
 *
 *    pnpm bench [--only ROW[,ROW…]] [--rounds N]
 *
 *  Prints the machine and every figure with its bar, and beside ratios of time a floor, which is not judged: the same ratio for a program
 *  that loads the command, reads the frames and averages the band, and does nothing else. So much of a bar can be reached at all; exits 1 where one is missed. The script of general-purpose libraries
 *  needs the Debian packages python3-opencv and python3-numpy; without them what compares with it is not judged. */
import { execFileSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { describeMachine } from "./machine.js";
import { checkLines } from "./print-checks.js";
import { type Check, holds, type Row } from "./row.js";
import { mapOfStills } from "./rows/arrival-map.js";
import { batchOfTakes } from "./rows/batch.js";
import { compressedStills } from "./rows/compressed-stills.js";
import { longStack } from "./rows/long-stack.js";
import { longTake } from "./rows/long-take.js";
import { lowStills } from "./rows/low-stills.js";
import { uncompressed } from "./rows/uncompressed.js";
import { bundleReading } from "./run/bundle-reading.js";
import { PYTHON } from "./run/contestants.js";

const rows: readonly Row[] = [
  compressedStills("png", 1.4),
  compressedStills("jpeg", 1),
  uncompressed(8),
  uncompressed(16),
  lowStills,
  longStack,
  longTake,
  mapOfStills,
  batchOfTakes,
];

const { values } = parseArgs({
  options: { only: { type: "string" }, rounds: { type: "string", default: "5" } },
});
const rounds = Number(values.rounds);
if (!Number.isInteger(rounds) || rounds < 1)
  throw new RangeError(`--rounds must be a whole number >= 1, got ${values.rounds}`);
const chosen = chooseRows(values.only);

console.log(`${describeMachine()}\nmedians of ${rounds} rounds, contestants in turn\n`);
await bundleReading();
const checks: Check[] = [];
for (const row of chosen) {
  const folder = await mkdtemp(join(tmpdir(), "bench-"));
  try {
    const found = await row.run({ folder, rounds, hasGeneralPurpose: hasGeneralPurpose() });
    console.log(`${row.name}: ${row.title}\n${checkLines(found).join("\n")}\n`);
    checks.push(...found);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
const judged = checks.filter(({ bar }) => bar !== "floor").length;
const missed = checks.filter((check) => holds(check) === false).length;
const skipped = checks.filter((check) => check.bar !== "floor" && holds(check) === null).length;
console.log(`${judged} figures, ${missed} missed, ${skipped} not judged`);
process.exitCode = missed > 0 ? 1 : 0;

function chooseRows(only: string | undefined): readonly Row[] {
  if (only === undefined) return rows;
  return only.split(",").map((name) => {
    const row = rows.find((one) => one.name === name);
    if (!row)
      throw new RangeError(`--only must name rows of ${rows.map((one) => one.name).join(", ")}, got ${name}`);
    return row;
  });
}

function hasGeneralPurpose(): boolean {
  try {
    execFileSync(PYTHON, ["-c", "import cv2, numpy"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
}
