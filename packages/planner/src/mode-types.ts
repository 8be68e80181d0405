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
