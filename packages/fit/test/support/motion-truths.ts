import type { MotionModelName } from "../../src/index.js";

/** A motion by its closed form. */
export interface MotionTruth {
  readonly name: MotionModelName;
  positionAt(time: number): number;
  speedAt(time: number): number;
  readonly parameters: Readonly<Record<string, number>>;
}

/** One motion of each model over times 0 to count − 1, some 5 units a step. */
export function motionTruths(count: number, soundSpeed: number): readonly MotionTruth[] {
  const range = count - 1;
  const [middle, early, late, tau] = [range / 2, 0.4 * range, 0.6 * range, 0.2 * range];
  return [
    {
      name: "constant",
      positionAt: (t) => 5 + 5 * t,
      speedAt: () => 5,
      parameters: { speed: 5 },
    },
    {
      name: "constant-acceleration",
      positionAt: (t) => 200 + 5 * (t - middle) + 0.02 * (t - middle) ** 2,
      speedAt: (t) => 5 + 0.04 * (t - middle),
      parameters: { speed: 5, acceleration: 0.04 },
    },
    {
      name: "terminal",
      positionAt: (t) => 10 + 6 * t - 4 * tau * (1 - Math.exp(-t / tau)),
      speedAt: (t) => 6 - 4 * Math.exp(-t / tau),
      parameters: { terminalSpeed: 6, startSpeed: 2, timeConstant: tau },
    },
    {
      name: "power-law",
      positionAt: (t) => 40 * (t + 3) ** 0.4,
      speedAt: (t) => 16 * (t + 3) ** -0.6,
      parameters: { coefficient: 40, exponent: 0.4, startTime: -3 },
    },
    {
      name: "decaying-shock",
      positionAt: (t) => 20 + soundSpeed * t + 3 * tau * Math.log(1 + t / tau),
      speedAt: (t) => soundSpeed + 3 / (1 + t / tau),
      parameters: { startSpeed: soundSpeed + 3, decayTime: tau },
    },
    {
      name: "accelerate-then-constant",
      positionAt: (t) => 200 + 6 * (t - early) + (t < early ? 0.05 * (t - early) ** 2 : 0),
      speedAt: (t) => 6 + (t < early ? 0.1 * (t - early) : 0),
      parameters: { finalSpeed: 6, acceleration: 0.1, breakTime: early },
    },
    {
      name: "two-speeds",
      positionAt: (t) => 200 + (t < late ? 4 : 5) * (t - late),
      speedAt: (t) => (t < late ? 4 : 5),
      parameters: { speedBefore: 4, speedAfter: 5, breakTime: late },
    },
  ];
}
