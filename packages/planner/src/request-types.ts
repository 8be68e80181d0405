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
