import type { PlannedMode } from "./plan-types.js";
import type { PlanRequest, SpeedRange } from "./request-types.js";

/** What of a plan is held against a result. */
export interface PlanCompared {
  /** Name of the take that was planned; null where the plan names none. */
  readonly take: string | null;
  /** Where the expected speed comes from published ones: of which material, and each source with how it was read. Default:
   *  null, it was given. */
  readonly material?: { readonly name: string; readonly sources: readonly string[] } | null;
  readonly request: Pick<PlanRequest, "speedMetresPerSecond" | "lengthMetres" | "blurPixels">;
  readonly mode: Pick<
    PlannedMode,
    | "columns"
    | "rows"
    | "rateHz"
    | "metresPerPixel"
    | "framesAcross"
    | "pixelsPerFrame"
    | "blurPixels"
    | "exposureSeconds"
    | "stepToNoise"
    | "predictedRelativeUncertainty"
  >;
  readonly predictedFrom: readonly string[];
}

/** What a take showed. */
export interface ObservedTake {
  readonly name: string;
  readonly columns: number;
  readonly rows: number;
  readonly rateHz: number;
  readonly metresPerPixel: number;
  /** Of the light pulse, where light is pulsed; null where it is not known. */
  readonly exposureSeconds: number | null;
  readonly outcome:
    | {
        readonly status: "measured";
        /** m/s, and half of its 95 % interval. */
        readonly speed: number;
        readonly expandedUncertainty: number;
        /** Standard uncertainty by source, relative to the speed. */
        readonly relativeUncertainties: readonly { readonly source: string; readonly relative: number }[];
        readonly framesUsed: number;
        readonly pathPixels: number;
        readonly stepToNoise: number | null;
      }
    | {
        readonly status: "bounded";
        /** At least so fast, m/s. */
        readonly lowerBound: number;
        /** From the last frame before the crossing to the first one after it. */
        readonly frames: number;
        readonly crossedPixels: number;
      }
    | { readonly status: "not-found"; readonly message: string };
}

/** One quantity of a plan against what was observed. */
export interface ComparedQuantity {
  readonly quantity:
    | "columns"
    | "rows"
    | "rateHz"
    | "exposureSeconds"
    | "metresPerPixel"
    | "speed"
    | "framesAcross"
    | "pixelsPerFrame"
    | "blurPixels"
    | "stepToNoise"
    | "relativeUncertainty";
  /** What both values of a predicted uncertainty hold, for example "image noise only"; of other quantities left out. */
  readonly label?: string;
  /** Ends of what was planned, equal where it is one value; null where the plan does not say. */
  readonly planned: SpeedRange | null;
  readonly observed: number | null;
  readonly verdict: "held" | "exceeded" | "fell-short" | "not-known";
  /** Whether the difference is larger than the uncertainties allow; null where these are not known. */
  readonly beyondUncertainty: boolean | null;
  /** Whether the plan holds in this; false where what differs is to the take's disadvantage. */
  readonly holds: boolean;
  readonly reason: string;
  /** What to set for the next take; null where nothing is to be changed. */
  readonly next: string | null;
}

/** A plan against a result. */
export interface Comparison {
  /** The front was measured, and every quantity holds. */
  readonly held: boolean;
  readonly quantities: readonly ComparedQuantity[];
  /** Where the front was too fast to follow: the lowest rate that would measure it, frames per second; else null. */
  readonly lowestRateHz: number | null;
}
