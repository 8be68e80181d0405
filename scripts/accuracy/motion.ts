/** Motion models on positions drawn from seeds: shares of the 95 % intervals that hold the truth, the choice of the model included.
 *
 *    pnpm accuracy:motion [--draws N] [--seed S]
 *
 *  Exits 1 where a bar is missed. */
import { parseArgs } from "node:util";
import { motionTruths } from "../../packages/fit/test/support/motion-truths.js";
import { FRAMES, motionTrial, SOUND_SPEED } from "./motion-trial.js";

const { values } = parseArgs({ options: { draws: { type: "string" }, seed: { type: "string" } } });
const draws = Number(values.draws ?? 300);
const first = Number(values.seed ?? 20_261_128);

/** Root mean square errors that may not be exceeded; of the final speed relative. */
const BARS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  "accelerate-then-constant": { finalSpeed: 0.001 * 6, breakTime: 1 },
  "power-law": { exponent: 0.002 },
};
/** Three standard deviations of a share of 95 % in 300 draws. */
const LEAST_HELD = 0.95 - 3 * Math.sqrt((0.95 * 0.05) / draws);

let missed = 0;
for (const truth of motionTruths(FRAMES, SOUND_SPEED)) {
  const { held, right, errors } = motionTrial(truth, draws, first);
  const bars = BARS[truth.name] ?? {};
  const isMissed = held < LEAST_HELD || Object.entries(bars).some(([key, bar]) => errors[key] > bar);
  if (isMissed) missed++;
  const rms = Object.entries(errors).map(([key, value]) => `${key} ${value.toPrecision(2)}`);
  console.log(
    `${truth.name}: holds ${(100 * held).toFixed(1)} %, model found ${(100 * right).toFixed(1)} %, rms ${rms.join(", ")}${isMissed ? " MISSED" : ""}`,
  );
}
process.exitCode = missed > 0 ? 1 : 0;
