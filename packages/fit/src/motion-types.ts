/** Names of the motion models, in order of rising number of parameters. */
export const MOTION_MODELS = [
  "constant",
  "constant-acceleration",
  "terminal",
  "power-law",
  "decaying-shock",
  "accelerate-then-constant",
  "two-speeds",
] as const;

export type MotionModelName = (typeof MOTION_MODELS)[number];

export interface MotionOptions {
  /** One standard uncertainty of each position, or of all, > 0, in the unit of the positions. Default: unknown, the same
   *  for all. */
  readonly standardUncertainty?: number | readonly number[];
  /** `auto`: the simplest model that explains the positions. Default: auto. */
  readonly model?: MotionModelName | "auto";
  /** Time at which a power law starts, known, before the first position. Default: found from the positions. */
  readonly startTime?: number;
  /** Speed of sound that a decaying shock tends to, > 0. Without it that model is not tried. */
  readonly soundSpeed?: number;
}

export interface MotionParameter {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** Whether the residuals are in random order. */
export interface ResidualTests {
  /** Number of runs of one sign against random order, in standard deviations; negative: too few. */
  readonly runs: number;
  /** Lag-one correlation, corrected for the parameters fitted. */
  readonly autocorrelation: number;
  /** Neither is beyond 2.58 standard deviations, 1 % of residuals in random order each. */
  readonly isRandom: boolean;
}

export interface SpeedAt {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** One model through the positions. */
export interface MotionModelFit {
  readonly name: MotionModelName;
  /** By the names of the model: speeds, times and so on in the units of times and positions. */
  readonly parameters: Readonly<Record<string, MotionParameter>>;
  /** Of the parameters, in their order. */
  readonly covariance: readonly (readonly number[])[];
  /** Of the covariance, for Student's factor. */
  readonly degreesOfFreedom: number;
  /** position − model, shape (N,) */
  readonly residuals: readonly number[];
  readonly residualTests: ResidualTests;
  /** Σ (residual/u)², u = 1 where no uncertainty is given. */
  readonly chiSquared: number;
  /** Of position and parameters. */
  readonly numbersFitted: number;
  positionAt(time: number): number;
  speedAt(time: number): SpeedAt;
}

/** How one model did against the others. */
export interface TriedModel {
  readonly name: MotionModelName;
  /** `rejected`: more than 2 above the least AICc; `as-good`: within 2, but not the simplest; `not-determined`: the
   *  positions do not determine its parameters. */
  readonly verdict: "chosen" | "as-good" | "rejected" | "not-determined";
  /** AICc less the least of all; null where not determined. */
  readonly aiccAboveLeast: number | null;
  /** Standard deviation of the weighted residuals; null where not determined. */
  readonly residualStandardDeviation: number | null;
  /** At the middle of the observed range; null where not determined. */
  readonly speed: number | null;
}

/** The chosen model, and what it was chosen from. */
export interface MotionFit {
  readonly model: MotionModelFit;
  /** The speed at the middle of the observed range; of a constant model the speed. */
  readonly speed: SpeedAt & {
    readonly time: number;
    readonly degreesOfFreedom: number;
    /** How far the models within 2 AICc are apart about the chosen one: a standard uncertainty besides. */
    readonly modelChoiceUncertainty: number;
  };
  readonly tried: readonly TriedModel[];
}
