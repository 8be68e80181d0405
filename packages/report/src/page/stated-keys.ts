/** Keys of take.json in words. */
const NAMES: Readonly<Record<string, string>> = {
  rateHz: "recording rate",
  rateUncertaintyHz: "its uncertainty",
  exposureSeconds: "exposure",
  metresPerPixel: "scale",
  metresPerPixelUncertainty: "uncertainty of the scale",
  calibration: "calibration",
  sensorOffset: "place on the sensor",
  binning: "binning",
  medium: "medium",
  path: "path",
  width: "width",
  polarity: "polarity",
  front: "which front",
  origin: "origin of the circle",
  cell: "cells of the arrival map",
  firstFrame: "first frame",
  lastFrame: "last frame",
  frameStep: "every how manieth frame was kept",
  model: "model of the motion",
  startTimeSeconds: "start of the motion",
  airTemperatureKelvin: "temperature of the air",
  airTemperatureUncertaintyKelvin: "its uncertainty",
  distanceMetres: "distance of the camera",
  distanceUncertaintyMetres: "its uncertainty",
  rowTimeSeconds: "time from row to row",
  timestamps: "table of times",
  lightPulseSeconds: "light pulse",
  transfer: "transfer function",
  skipBad: "leaving damaged frames out",
  raw: "layout of the samples",
  plan: "plan",
  material: "material",
};
/** What the program finds by itself where nobody states it. */
const FOUND = ["path", "width", "polarity", "firstFrame", "lastFrame"];

/** Which choices were made by hand and which by the program, in words.
 *  @param stated  keys of take.json; absent in results that do not say */
export function choices(stated: readonly string[] | undefined): {
  readonly byHand: readonly string[];
  readonly byProgram: readonly string[];
} {
  if (stated === undefined) return { byHand: ["not recorded"], byProgram: ["not recorded"] };
  return {
    byHand: stated.map((key) => NAMES[key] ?? key),
    byProgram: FOUND.filter((key) => !stated.includes(key)).map((key) => NAMES[key]),
  };
}
