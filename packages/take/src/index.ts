export { assemblePlan, type PlanReport, type PlanSubject } from "./assemble-plan.js";
export { calibrateStills } from "./calibrate.js";
export type { CalibrateOptions, Calibration, Standard } from "./calibrate-stills.js";
export { checkPlan } from "./check-plan.js";
export { checkResult } from "./check-result.js";
export { compareTake } from "./compare-take.js";
export { copyFrames } from "./copy-frames.js";
export { csvText } from "./csv-text.js";
export { checkTake } from "./dry-check.js";
export { earlierTake } from "./earlier-take.js";
export { eventCourse } from "./event-course.js";
export { findInTake } from "./find-in-take.js";
export { eachPicture } from "./frame-samples.js";
export {
  checkJsonSchema,
  eventsJsonSchema,
  planJsonSchema,
  resultJsonSchema,
  scaleJsonSchema,
  takeJsonSchema,
} from "./json-schemas.js";
export { mapFiles } from "./map-files.js";
export { mapQuantities } from "./map-quantities.js";
export { measureTake } from "./measure-take.js";
export { openFootage } from "./open-footage.js";
export { prepareCopy } from "./prepare-copy.js";
export { prepareOutput } from "./prepare-output.js";
export { programVersion } from "./program-version.js";
export { readPlan, readResult } from "./read-plan.js";
export { checkScale, readScale } from "./read-scale.js";
export type { CalibrationStill } from "./read-stills.js";
export { checkTakeFile, readTakeFile, takeFileOf } from "./read-take-file.js";
export { readTips } from "./read-tips.js";
export { TakeError, type TakeErrorCode, type TakeErrorFields } from "./take-error.js";
export { tipsCsv } from "./tips-csv.js";
export { trackCsv } from "./track-csv.js";
export type * from "./types.js";
export { unreadableReason } from "./unreadable-reason.js";
export { removeLeftovers, type WriteOptions, writeOutputs } from "./write-outputs.js";
