import { fitMotion, studentFactor } from "@frontpace/fit";
import type { MotionTruth } from "../../packages/fit/test/support/motion-truths.js";
import { seededNormal } from "../../packages/fit/test/support/seeded-noise.js";

export const FRAMES = 60;
export const SOUND_SPEED = 4;
/** Noise of a position, px. */
const NOISE = 0.05;

export interface MotionTrial {
  /** Share of draws whose 95 % interval of the speed at the middle, with the choice, holds the truth. */
  readonly held: number;
  /** Share of draws in which the true model was chosen. */
  readonly right: number;
  /** Root mean square errors of its parameters in these. */
  readonly errors: Readonly<Record<string, number>>;
}

/** Draws positions of one motion with white noise, and fits them with the model left to be found. */
export function motionTrial(truth: MotionTruth, draws: number, firstSeed: number): MotionTrial {
  const times = Array.from({ length: FRAMES }, (_, i) => i);
  const squares: Record<string, number> = {};
  let [held, right] = [0, 0];
  for (let k = 0; k < draws; k++) {
    const normal = seededNormal(firstSeed + k);
    const positions = times.map((t) => truth.positionAt(t) + NOISE * normal());
    const soundSpeed = truth.name === "decaying-shock" ? { soundSpeed: SOUND_SPEED } : {};
    const { model, speed } = fitMotion(times, positions, { standardUncertainty: NOISE, ...soundSpeed });
    const u = Math.hypot(speed.standardUncertainty, speed.modelChoiceUncertainty);
    if (Math.abs(speed.value - truth.speedAt(speed.time)) <= studentFactor(speed.degreesOfFreedom) * u)
      held++;
    if (model.name !== truth.name) continue;
    right++;
    for (const [key, value] of Object.entries(truth.parameters))
      squares[key] = (squares[key] ?? 0) + (model.parameters[key].value - value) ** 2;
  }
  const errors = Object.fromEntries(
    Object.entries(squares).map(([key, sum]) => [key, Math.sqrt(sum / right)]),
  );
  return { held: held / draws, right: right / draws, errors };
}
