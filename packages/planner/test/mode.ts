import type { RecordingMode } from "../src/index.js";

/** A recording mode of an invented camera. */
export const mode = (
  columns: number,
  rows: number,
  rateHz: number,
  more: Partial<RecordingMode> = {},
): RecordingMode => ({
  columns,
  rows,
  rateHz,
  bits: 12,
  minExposureSeconds: 1e-7,
  interpolation: null,
  ...more,
});
