import type { RowTimeModel } from "./mode-types.js";

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
  /** The limit: what was asked for, or of the exposure what the mode allows. */
  readonly wanted: number;
  /** What the mode gives instead: what the limit would have to be for this mode to meet it. */
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
