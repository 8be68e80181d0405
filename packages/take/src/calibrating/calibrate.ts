import type { CalibrateOptions, Calibration } from "./calibrate-stills.js";

/** The scale of stills of something of known size. Of several stills of a grid the first holds the plane of the event; the
 *  others repeat it, or with `lens` show the grid in other poses.
 *  @param files  stills, all of one size
 *  @throws TakeError, FrameLoadError, CalibrationError, each with a stable `code`; `signal.reason` when stopped */
export async function calibrateStills(
  files: readonly string[],
  options: CalibrateOptions,
  context: { readonly signal?: AbortSignal } = {},
): Promise<Calibration> {
  // What finds grids and points is needed for nothing else.
  const { calibrateStills: calibrate } = await import("./calibrate-stills.js");
  return calibrate(files, options, context);
}
