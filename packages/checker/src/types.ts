/** One line of a dry check. */
export interface CheckLine {
  readonly check: CheckName;
  /** `not-checked`: what was given does not tell, and the message says why. */
  readonly verdict: "pass" | "warn" | "not-checked";
  /** What was seen. */
  readonly message: string;
  /** What to change; null where nothing is to be changed. */
  readonly advice: string | null;
  /** The figures, each with its unit in its name; null: not told. */
  readonly values: Readonly<Record<string, number | null>>;
}

export type CheckName =
  | "focus"
  | "exposure"
  | "noise"
  | "light"
  | "frames"
  | "pattern"
  | "drift"
  | "mode"
  | "clock";

/** The edges that the path crosses, sharpest first. */
export interface FocusFacts {
  readonly edges: readonly {
    /** Standard deviation of the blur along the path, the integrating pixel in it, px. */
    readonly blurAlongPixels: number;
    readonly standardUncertaintyPixels: number;
    readonly place: readonly [number, number];
  }[];
  /** px. Default: 2 (common practice, no source). */
  readonly mostBlurPixels?: number;
}

export interface ExposureFacts {
  /** Largest sample, and the share of the samples that have it. */
  readonly brightest: { readonly value: number; readonly share: number };
  /** Largest value that samples can have; null: floating point. */
  readonly white: number | null;
}

export interface NoiseFacts {
  /** Standard deviations of one pixel and of a sample averaged across the path; null: too few frames. */
  readonly noise: { readonly pixel: number; readonly sample: number } | null;
  readonly width: number;
  readonly effectiveRows: number | null;
  readonly white: number | null;
  readonly brightest: number;
  /** The noise is of one still: its texture cannot be told from it. */
  readonly isOfStill: boolean;
}

export interface LightFacts {
  readonly frames: number;
  /** Peak to peak of the brightness, relative to the mean; null: no more than noise explains. */
  readonly depth: number | null;
  /** Whether all of the path varies alike: else something moves in it. */
  readonly isShared: boolean;
  /** Of the brightness of one frame, relative. */
  readonly standardUncertainty: number;
  /** What of it repeats. */
  readonly periodic: {
    readonly cyclesPerFrame: number;
    readonly standardUncertainty: number;
    readonly depth: number;
  } | null;
  /** null: not known. */
  readonly rateHz: number | null;
}

export interface FrameFacts {
  readonly timing:
    | { readonly seen: "steady" | "nothing" }
    | { readonly seen: "copies"; readonly frames: readonly number[] }
    | { readonly seen: "conversion"; readonly message: string };
  /** Numbers of the frames, increasing. */
  readonly numbers: readonly number[];
}

export interface PatternFacts {
  readonly pattern: PixelPattern;
  readonly width: number;
  readonly effectiveRows: number | null;
}

/** What repeats from pixel to pixel. */
export interface PixelPattern {
  /** How much more neighbours differ across the borders of blocks of 8 px than elsewhere, relative; null: no more than
   *  chance. */
  readonly blocks: number | null;
  /** Whether neighbouring pixels differ in turns, as under a colour mosaic. */
  readonly mosaic: boolean;
}

export interface DriftFacts {
  readonly frames: number;
  /** From the first frame to the last and in between, peak to peak, px; null: no texture tells. */
  readonly along: ShiftSeen | null;
  readonly across: ShiftSeen | null;
  /** Where no texture tells, across the one edge that the path crosses, and where that is, px. Default: null, none tells. */
  readonly acrossEdge?: (ShiftSeen & { readonly place: readonly [number, number] }) | null;
}

export interface ShiftSeen {
  readonly extentPixels: number;
  /** Of one frame. */
  readonly standardUncertaintyPixels: number;
  readonly moves: boolean;
}

export interface ModeFacts {
  readonly settings: readonly {
    readonly quantity: string;
    readonly planned: number;
    /** null: the take does not say. */
    readonly observed: number | null;
    readonly agrees: boolean;
  }[];
}

export interface ClockFacts {
  readonly lampHz: number;
  /** Of the lamp, one standard uncertainty; null: not stated. */
  readonly lampUncertaintyHz: number | null;
  readonly nominalRateHz: number;
  /** What of the picture repeats at about the lamp's frequency; null: nothing does. */
  readonly seen: {
    readonly cyclesPerFrame: number;
    /** From the residuals of the fit. */
    readonly standardUncertainty: number;
    readonly degreesOfFreedom: number;
    /** Harmonics of the lamp's wave that were seen. */
    readonly harmonics: number;
  } | null;
  /** Of what repeats farther from the lamp's frequency than the stated rate may be wrong; null: nothing does. */
  readonly elsewhereCyclesPerFrame?: number | null;
  /** A frame sees so much of the wave of the lamp, s. Default: an instant of it. */
  readonly exposureSeconds?: number;
  readonly frames: number;
}
