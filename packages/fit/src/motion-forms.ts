import type { MotionModelName, MotionOptions } from "./motion-types.js";

/** A model as a sum of a few known courses: position(t) = known(t) + Σ linear[k] · basis(t)[k], the courses bent by shape
 *  parameters. */
export interface MotionForm {
  readonly name: MotionModelName;
  /** Names of the linear parameters; null: a position, which is not reported. */
  readonly linear: readonly (string | null)[];
  /** Names of the shape parameters. */
  readonly shape: readonly string[];
  /** Shape (linear,) */
  basis(time: number, shape: readonly number[]): number[];
  /** For each shape parameter the slopes of the basis in it: shape (shape, linear). */
  basisSlopes(time: number, shape: readonly number[]): number[][];
  /** Shapes to start from. */
  readonly starts: readonly (readonly number[])[];
  isAllowed(shape: readonly number[]): boolean;
  /** What has no free parameter. Default: nothing. */
  known?(time: number): number;
  /** What is added to each parameter where it is reported, linear ones first: times are counted from the first position, where a
   *  late clock costs them no digits. Default: nothing. */
  readonly reportedAfter?: readonly number[];
}

/** Exponential courses slower than so many observed ranges are parabolas. */
const SLOWEST = 5;
/** At least so many positions lie on either side of a break. */
const EACH_SIDE = 3;
const MOST_BREAKS = 30;

/** The forms that can be tried on these times and positions.
 *  @param times  shape (N,), increasing
 *  @param positions  shape (N,) */
export function motionForms(
  times: readonly number[],
  positions: readonly number[],
  { startTime, soundSpeed }: MotionOptions,
): MotionForm[] {
  const first = times[0];
  const range = times[times.length - 1] - first;
  const middle = first + range / 2;
  return [
    constant(middle),
    constantAcceleration(middle),
    terminal(first, range),
    ...(positions.every((position) => position > 0) ? [powerLaw(times, positions, startTime)] : []),
    ...(soundSpeed === undefined ? [] : [decayingShock(first, range, soundSpeed)]),
    ...(times.length > 2 * EACH_SIDE ? [accelerateThenConstant(times), twoSpeeds(times)] : []),
  ];
}

const straight = { shape: [], basisSlopes: () => [], starts: [[]], isAllowed: () => true };

function constant(middle: number): MotionForm {
  return { ...straight, name: "constant", linear: [null, "speed"], basis: (t) => [1, t - middle] };
}

function constantAcceleration(middle: number): MotionForm {
  return {
    ...straight,
    name: "constant-acceleration",
    linear: [null, "speed", "acceleration"],
    basis: (t) => [1, t - middle, (t - middle) ** 2 / 2],
  };
}

/** Speed terminal + (start − terminal) exp(−s/τ), s from the first position. */
function terminal(first: number, range: number): MotionForm {
  return {
    name: "terminal",
    linear: [null, "terminalSpeed", "startSpeed"],
    shape: ["timeConstant"],
    basis: (t, [tau]) => {
      const s = t - first;
      const atStart = -tau * Math.expm1(-s / tau);
      return [1, s - atStart, atStart];
    },
    basisSlopes: (t, [tau]) => {
      const s = t - first;
      const slope = -Math.expm1(-s / tau) - (s / tau) * Math.exp(-s / tau);
      return [[0, -slope, slope]];
    },
    starts: geometric(0.02, 3, 14).map((share) => [share * range]),
    isAllowed: ([tau]) => tau > 0 && tau < SLOWEST * range,
  };
}

/** R = a (t − t0)^b, R from where it started. */
function powerLaw(times: readonly number[], positions: readonly number[], startTime?: number): MotionForm {
  const first = times[0];
  const range = times[times.length - 1] - first;
  const exponentFrom = (t0: number) => logarithmicSlope(times, positions, t0);
  const common = { name: "power-law", linear: ["coefficient"] } as const;
  if (startTime !== undefined) {
    const power = (t: number, b: number) => (t - startTime) ** b;
    return {
      ...common,
      shape: ["exponent"],
      basis: (t, [b]) => [power(t, b)],
      basisSlopes: (t, [b]) => [[power(t, b) * Math.log(t - startTime)]],
      starts: [[exponentFrom(startTime)]],
      isAllowed: ([b]) => b > 0,
    };
  }
  return {
    ...common,
    shape: ["exponent", "startTime"],
    reportedAfter: [0, 0, first],
    basis: (t, [b, start]) => [(t - first - start) ** b],
    basisSlopes: (t, [b, start]) => {
      const since = t - first - start;
      return [[since ** b * Math.log(since)], [-b * since ** (b - 1)]];
    },
    starts: geometric(0.002, 4, 16).map((share) => [exponentFrom(first - share * range), -share * range]),
    isAllowed: ([b, start]) => b > 0 && start < 0 && start > -4 * SLOWEST * range,
  };
}

/** Speed c + (start − c)/(1 + s/T), s from the first position: of a shock that is weak already, whose excess over the speed
 *  of sound falls nearly as 1/t. */
function decayingShock(first: number, range: number, soundSpeed: number): MotionForm {
  return {
    name: "decaying-shock",
    linear: [null, "startSpeed"],
    shape: ["decayTime"],
    basis: (t, [decay]) => [1, decay * Math.log1p((t - first) / decay)],
    basisSlopes: (t, [decay]) => {
      const s = (t - first) / decay;
      return [[0, Math.log1p(s) - s / (1 + s)]];
    },
    starts: geometric(0.01, 5, 14).map((share) => [share * range]),
    isAllowed: ([decay]) => decay > 0 && decay < 4 * SLOWEST * range,
    known: (t) => soundSpeed * (t - first),
    reportedAfter: [0, soundSpeed, 0],
  };
}

function accelerateThenConstant(times: readonly number[]): MotionForm {
  return {
    ...withBreak(times),
    name: "accelerate-then-constant",
    linear: [null, "finalSpeed", "acceleration"],
    basis: (t, [at]) => {
      const since = t - times[0] - at;
      return [1, since, Math.min(since, 0) ** 2 / 2];
    },
    basisSlopes: (t, [at]) => [[0, -1, -Math.min(t - times[0] - at, 0)]],
  };
}

function twoSpeeds(times: readonly number[]): MotionForm {
  return {
    ...withBreak(times),
    name: "two-speeds",
    linear: [null, "speedBefore", "speedAfter"],
    basis: (t, [at]) => {
      const since = t - times[0] - at;
      return [1, Math.min(since, 0), Math.max(since, 0)];
    },
    basisSlopes: (t, [at]) => {
      const isBefore = t - times[0] < at;
      return [[0, isBefore ? -1 : 0, isBefore ? 0 : -1]];
    },
  };
}

function withBreak(times: readonly number[]) {
  const from = times[EACH_SIDE - 1] - times[0];
  const to = times[times.length - EACH_SIDE] - times[0];
  const steps = Math.min(MOST_BREAKS, times.length - 2 * EACH_SIDE);
  return {
    shape: ["breakTime"],
    reportedAfter: [0, 0, 0, times[0]],
    starts: Array.from({ length: steps }, (_, k) => [from + ((to - from) * (k + 0.5)) / steps]),
    isAllowed: ([at]: readonly number[]) => at > from && at < to,
  };
}

function geometric(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, k) => from * (to / from) ** (k / (count - 1)));
}

/** Slope of log position against log time since t0, at least 0.01. */
function logarithmicSlope(times: readonly number[], positions: readonly number[], t0: number): number {
  const x = times.map((t) => Math.log(t - t0));
  const y = positions.map(Math.log);
  const centre = x.reduce((sum, value) => sum + value, 0) / x.length;
  const squares = x.reduce((sum, value) => sum + (value - centre) ** 2, 0);
  return Math.max(0.01, x.reduce((sum, value, i) => sum + (value - centre) * y[i], 0) / squares);
}
