/** One recording mode of a camera. */
export interface RecordingMode {
  /** Size of the picture, px. */
  readonly columns: number;
  readonly rows: number;
  /** Highest recording rate in this mode, frames per second. */
  readonly rateHz: number;
  /** Bits that a sample takes up in memory; null where the list does not say. */
  readonly bits: number | null;
  /** Shortest exposure, s; null where the list does not say. */
  readonly minExposureSeconds: number | null;
  /** Where the mode is not in the list but between two heights of it; null for a listed one. */
  readonly interpolation: RowTimeModel | null;
}

/** rate = 1 / (rows · rowTimeSeconds + overheadSeconds) */
export interface RowTimeModel {
  readonly rowTimeSeconds: number;
  readonly overheadSeconds: number;
  /** Heights it was fitted to, increasing, px. */
  readonly fittedRows: readonly number[];
  /** Largest departure of a listed rate from the model, relative; null where two entries fix both parameters. */
  readonly relativeResidual: number | null;
}

/** Expected speed: the ends of a range, m/s; equal where one value is expected. */
export interface SpeedRange {
  readonly low: number;
  readonly high: number;
}

/** What an earlier take showed, relative to its speed; null where it does not say. */
export interface EarlierTake {
  readonly name: string;
  readonly relativeWander: number | null;
  readonly relativeScale: number | null;
  readonly relativeRate: number | null;
}

/** What is expected, what is wanted, and what there is. Every limit is optional, and one that is left out rejects no mode. */
export interface PlanRequest {
  readonly speedMetresPerSecond: SpeedRange;
  /** Length over which the front is to be followed, m. */
  readonly lengthMetres: number;
  /** Which side of the picture the front runs along. Default "columns": from side to side. */
  readonly along?: "columns" | "rows";
  /** Length of one pixel, m, where the optics stay as they are. Default: the length fills that side of the picture. */
  readonly metresPerPixel?: number;
  /** Frames in which the front is wanted in the picture, >= 3. Default 3: with fewer a speed is bounded, not measured. */
  readonly framesAcross?: number;
  /** Way of the front during the exposure, px, at most. */
  readonly blurPixels?: number;
  /** Exposure, s; or, instead, part of the frame interval, 0 < f <= 1. Default: the longest that `blurPixels` allows, else
   *  the whole interval. */
  readonly exposureSeconds?: number;
  readonly exposureFraction?: number;
  /** Memory, bytes; or, instead, the time that it lasts in every mode, s. */
  readonly memoryBytes?: number;
  readonly memorySeconds?: number;
  /** Time between the event and the trigger, at most, s. */
  readonly reactionSeconds?: number;
  /** Frames shown per second on the screen. */
  readonly playbackHz?: number;
  /** Exposure that was known to be good, s. */
  readonly goodExposureSeconds?: number;
  /** Light now against the light of the good exposure. Default 1. */
  readonly relativeLight?: number;
  /** Loss of exposure against the good one, stops, at most. */
  readonly stopsLost?: number;
  /** Step of the front over the noise of a single pixel, at the good exposure. */
  readonly stepToNoise?: number;
  /** What rules the noise: of photons (step to noise as the square root of the exposure) or of the reading of the sensor (as
   *  the exposure). Default "shot". */
  readonly noise?: "shot" | "read";
  /** Standard deviation of the edge at rest, px. Default 1. */
  readonly edgeBlurPixels?: number;
  /** Width averaged across the path, px. Default 15, as `frontpace measure` has it about a given path. */
  readonly widthPixels?: number;
  /** Relative standard uncertainty of the speed, at most. */
  readonly relativeUncertainty?: number;
  readonly earlier?: EarlierTake;
  /** Frequency of the mains, Hz: 50 or 60. Default: both are looked at. */
  readonly mainsHz?: 50 | 60;
}

/** How lamps on the mains show in a mode: they flicker at twice its frequency. */
export interface MainsFlicker {
  readonly lampHz: number;
  readonly framesPerCycle: number;
  /** Largest change of the brightness over the event, relative to its mean, of a lamp that goes dark twice a period of the mains. */
  readonly largestVariation: number;
}

/** By how much a mode misses a limit. */
export interface Shortfall {
  readonly limit:
    | "framesAcross"
    | "blurPixels"
    | "exposureSeconds"
    | "stopsLost"
    | "memory"
    | "lengthMetres"
    | "relativeUncertainty";
  readonly wanted: number;
  /** What the limit would have to be for this mode to meet it. */
  readonly needed: number;
  /** How far the limit is missed: > 1. */
  readonly factor: number;
  readonly reason: string;
}

/** What a mode would give: what it is compared by. Figures for the fastest expected speed. */
export interface ModeFigures {
  readonly columns: number;
  readonly rows: number;
  readonly rateHz: number;
  readonly metresPerPixel: number;
  /** Frame intervals during which the front is in the length of interest. */
  readonly framesAcross: number;
  readonly pixelsPerFrame: number;
  /** Way of the front during the exposure. */
  readonly blurPixels: number;
  readonly exposureSeconds: number;
  /** Against the good exposure, by log2; null without one. */
  readonly stopsLost: number | null;
  /** How long the memory lasts, s; null where nothing is known of it. */
  readonly recordSeconds: number | null;
  /** How long the whole memory lasts on the screen, s. */
  readonly playbackSeconds: number | null;
  /** Standard uncertainty of the speed over the speed; null where the step to noise is not known, or the front is seen in
   *  fewer than three frames. */
  readonly predictedRelativeUncertainty: number | null;
}

/** What else a mode would give. The event takes as long as at the slowest expected speed. */
export interface ModeDetails {
  readonly bits: number | null;
  readonly blurMetres: number;
  /** Way of the front from one frame to the next, m. */
  readonly stepMetres: number;
  readonly eventSeconds: number;
  readonly eventPlaybackSeconds: number | null;
  readonly recordFrames: number | null;
  /** Part of the memory that the event fills. */
  readonly eventShare: number | null;
  /** Part of the memory that is to be kept from before the trigger. */
  readonly triggerShare: number | null;
  /** At this mode's exposure. */
  readonly stepToNoise: number | null;
  readonly mains: readonly MainsFlicker[];
  readonly interpolation: RowTimeModel | null;
}

/** A mode held against the wish. */
export interface PlannedMode extends ModeFigures, ModeDetails {
  readonly meets: boolean;
  /** Why it does not. */
  readonly reasons: readonly string[];
  readonly shortfalls: readonly Shortfall[];
}

/** Modes against a wish, best first. */
export interface PlannedModes {
  readonly modes: readonly PlannedMode[];
  /** Index of the best mode that meets every limit; null where none does. */
  readonly chosen: number | null;
  /** What `predictedRelativeUncertainty` holds. */
  readonly predictedFrom: readonly string[];
  /** Where no mode meets the wish: what to relax, and by how much; else null. */
  readonly relax: string | null;
  /** Whether a wider picture of the same height is slower; null where the list does not show it. */
  readonly widthCostsRate: boolean | null;
}

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
