/** What pictures, pages and words need of a result: the content of a result.json has these members, and others. SI units. */
export interface ReportedResult {
  readonly status: "measured" | "bounded" | "not-found";
  readonly program: { readonly name: string; readonly version: string };
  readonly speed: ReportedSpeed | null;
  readonly lowerBound: ReportedBound | null;
  readonly front: ReportedFront | null;
  /** Where there are several on the path: all. */
  readonly fronts?: readonly ReportedLine[];
  /** Other lines on which the same front may be read. */
  readonly alternatives?: readonly ReportedLine[];
  readonly model: ReportedModel | null;
  readonly take: ReportedTake;
  readonly search?: {
    readonly frames: number;
    readonly framesRead: number;
    readonly events: readonly {
      readonly firstFrame: number;
      readonly lastFrame: number;
      readonly kind: string;
    }[];
  };
  readonly notFound: { readonly reason: string; readonly message: string } | null;
  readonly comparison?: ReportedComparison;
  readonly shape?: ReportedShape;
  readonly branches?: readonly ReportedBranch[];
  readonly map?: { readonly stillFrame: number };
  readonly track?: ReportedTrack;
  readonly speedAlong?: ReportedSpeedAlong;
  readonly event?: readonly ReportedEventFrame[];
  readonly streak?: ReportedStreak;
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
}

export interface ReportedSpeed {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly coverageProbability: number;
  /** null: infinite */
  readonly degreesOfFreedom: number | null;
  readonly complete: boolean;
  readonly missing: readonly string[];
  readonly budget: readonly ReportedBudgetLine[];
  readonly notEvaluated?: readonly { readonly source: string; readonly reason: string }[];
}

export interface ReportedBudgetLine {
  readonly source: string;
  readonly type: "A" | "B";
  /** Contribution to the speed, m/s. */
  readonly standardUncertainty: number;
  readonly degreesOfFreedom: number | null;
  readonly relative?: number;
}

export interface ReportedBound {
  readonly value: number;
  readonly confidence: number;
  readonly complete: boolean;
  readonly missing: readonly string[];
  readonly lastFrameBefore: number;
  readonly firstFrameAfter: number;
  readonly lengthPixels: number;
}

export interface ReportedFront {
  readonly measurand: string;
  readonly firstFrame: number;
  readonly lastFrame: number;
  readonly framesUsed: number;
  readonly direction: readonly number[];
  readonly polarity: string;
  readonly channel?: "brightness" | "departures";
  readonly tilt?: {
    readonly degrees: number;
    readonly standardUncertainty: number;
    readonly normalSpeed: number;
  };
}

export interface ReportedLine {
  readonly speed: number;
  readonly standardUncertainty: number;
  readonly firstFrame: number;
  readonly lastFrame: number;
  readonly fromPixels: number;
  readonly toPixels: number;
}

export interface ReportedModel {
  readonly name: string;
  readonly parameters: Readonly<
    Record<string, { readonly value: number; readonly standardUncertainty: number; readonly unit: string }>
  >;
  readonly tried?: readonly {
    readonly name: string;
    readonly verdict: "chosen" | "as-good" | "rejected" | "not-determined";
    readonly aiccAboveLeast: number | null;
  }[];
}

export interface ReportedTake {
  readonly name: string;
  readonly frames: number;
  readonly firstFrame: number;
  readonly lastFrame: number;
  readonly rows: number;
  readonly columns: number;
  readonly bitDepth: number;
  readonly rateHz: number;
  readonly rateUncertaintyHz: number | null;
  readonly exposureSeconds: number | null;
  readonly lightPulseSeconds?: number;
  readonly metresPerPixel: number;
  readonly metresPerPixelUncertainty: number | null;
  readonly calibration?: {
    readonly method: string;
    readonly planeMap: boolean;
    readonly lens: boolean;
    readonly pathMetres: number;
    readonly leastMetresPerPixel: number;
    readonly greatestMetresPerPixel: number;
    readonly singleScaleError: number;
    readonly assumed: readonly string[];
    readonly medium: string;
    readonly sensorOffset?: readonly [number, number];
    readonly binning?: number;
    /** Names of the files that show the length standard. */
    readonly stills?: readonly string[];
  };
  readonly path: readonly [readonly [number, number], readonly [number, number]];
  readonly width: number;
  readonly polarity: string | null;
  readonly front?: number;
  readonly model?: string;
  readonly startTimeSeconds?: number;
  readonly airTemperatureKelvin?: number;
  readonly airTemperatureUncertaintyKelvin?: number | null;
  readonly distanceMetres?: number;
  readonly distanceUncertaintyMetres?: number | null;
  readonly rowTimeSeconds?: number;
  readonly timestamps?: true;
  readonly frameStep: number | null;
  readonly skipBad?: true;
  readonly transfer?: string;
  readonly raw?: string;
  readonly framesHash: string;
  readonly planHash?: string;
  /** Keys that were stated by a person. */
  readonly stated?: readonly string[];
}

export interface ReportedComparison {
  readonly held: boolean;
  readonly quantities: readonly ReportedQuantity[];
  readonly lowestRateHz: number | null;
}

export interface ReportedQuantity {
  readonly quantity: string;
  readonly label?: string;
  readonly planned: { readonly low: number; readonly high: number } | null;
  readonly observed: number | null;
  readonly verdict: "held" | "exceeded" | "fell-short" | "not-known";
  readonly beyondUncertainty: boolean | null;
  readonly holds: boolean;
  readonly reason: string;
  readonly next: string | null;
}

export interface ReportedValue {
  readonly value: number;
  readonly standardUncertainty: number | null;
}

export interface ReportedShape {
  readonly name: string;
  readonly reason: string;
  readonly measuredAlong: "path" | "radius" | "rows-or-columns";
  readonly straight: { readonly angleDegrees: ReportedValue } | null;
  readonly form?: { readonly angleDegrees: ReportedValue };
  readonly circle: {
    readonly origin: readonly [number, number];
    readonly originUncertainty: readonly [number | null, number | null] | null;
    readonly originGiven: boolean;
    readonly axes?: {
      readonly ratio: ReportedValue;
      readonly angleDegrees: number;
      readonly differ: boolean;
      readonly origin?: readonly [number, number];
      readonly originUncertainty?: readonly [number | null, number | null] | null;
    };
  } | null;
}

export interface ReportedBranch {
  readonly parent: number | null;
  readonly lengthPixels: number;
  readonly firstFrame: number | null;
  readonly lastFrame: number | null;
  readonly speed: number | null;
  readonly expandedUncertainty: number | null;
  readonly reason: string | null;
  readonly warnings: readonly string[];
}

/** Columns of equal length, a place for every frame in which the front was found. */
export interface ReportedTrack {
  readonly frame: readonly number[];
  readonly timeSeconds: readonly number[];
  /** Along the path in the picture. */
  readonly positionPixels: readonly number[];
  readonly positionMetres: readonly number[];
  readonly standardUncertaintyMetres: readonly number[];
  readonly fittedPixels: readonly number[];
  readonly fittedMetres: readonly number[];
  readonly residualMetres: readonly number[];
  readonly used: readonly boolean[];
}

/** Columns of equal length: the smoothed speed without a model, and the half-width of its band. */
export interface ReportedSpeedAlong {
  readonly timeSeconds: readonly number[];
  readonly speed: readonly number[];
  readonly halfWidth: readonly number[];
}

export interface ReportedStreak {
  /** Of its first and last column, counted in frames. */
  readonly firstFrame: number;
  readonly lastFrame: number;
  /** Smallest distance of two columns, in frames. */
  readonly frameStep: number;
  /** From the first sample to the last. */
  readonly lengthPixels: number;
  readonly samples: number;
  readonly channel: "brightness" | "departures";
}

/** A whole frame that is shown, and where in it the front was found. */
export interface ReportedEventFrame {
  readonly moment: "before" | "middle" | "after";
  readonly frame: number;
  readonly fronts: readonly ReportedFrontPlace[];
}

/** px of the picture. */
export interface ReportedFrontPlace {
  readonly kind: "line" | "circle" | "tip";
  /** Number of the front or branch, where there are several. */
  readonly number?: number;
  /** Ends of the line, or the tip alone. */
  readonly points?: readonly (readonly [number, number])[];
  readonly centre?: readonly [number, number];
  readonly radius?: number;
}
