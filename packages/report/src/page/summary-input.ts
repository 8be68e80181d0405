/** What the page of a batch needs of its summary.json. SI units. */
export interface ReportedSummary {
  readonly program: { readonly name: string; readonly version: string };
  readonly counts: {
    readonly takes: number;
    readonly measured: number;
    readonly bounded: number;
    readonly notFound: number;
    readonly failed: number;
  };
  readonly takes: readonly SummaryTake[];
  readonly repeats: readonly SummaryRepeats[];
}

export interface SummaryTake {
  readonly take: string;
  readonly status: "measured" | "bounded" | "not-found" | "failed";
  readonly speed: SummarySpeed | null;
  readonly lowerBound: {
    readonly value: number;
    readonly complete: boolean;
    readonly missing: readonly string[];
  } | null;
  readonly notFound: { readonly reason: string; readonly message: string } | null;
  readonly error: { readonly message: string } | null;
  readonly warnings: readonly { readonly code: string; readonly message: string }[];
  /** The take that counts in its place among repeats, as both show one event. */
  readonly sameEventAs: string | null;
}

export interface SummarySpeed {
  readonly value: number;
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly complete: boolean;
  readonly missing: readonly string[];
}

export interface SummaryRepeats {
  readonly folder: string;
  /** What these takes measured, in words. */
  readonly measurand: string;
  readonly takes: readonly string[];
  readonly mean: SummarySpeed;
  /** Of each take alone, without what takes share. */
  readonly ownUncertainties: readonly number[];
  readonly withinTakeStandardDeviation: number;
  readonly betweenTakeStandardDeviation: number;
  readonly intermediatePrecision: number;
  readonly shared: readonly { readonly source: string; readonly standardUncertainty: number }[];
  readonly chance: number;
  readonly disagreeing: readonly string[];
}

/** What goes with a take on the page. */
export interface SummaryExtras {
  /** PNG, small. */
  readonly picture?: Uint8Array;
  /** Its own page, relative to this one. */
  readonly page?: string;
}
