import type { calibrateStills as Calibrate } from "./calibrate-stills.js";

/** See `./calibrate-stills.ts`, which is loaded when it is called: what finds grids and points is needed for nothing else. */
export const calibrateStills: typeof Calibrate = async (...given) => {
  const { calibrateStills: calibrate } = await import("./calibrate-stills.js");
  return calibrate(...given);
};
