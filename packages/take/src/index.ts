export { calibrateStills } from "./calibrating/calibrate.js";
export type { CalibrateOptions, Calibration, Standard } from "./calibrating/calibrate-stills.js";
export type { CalibrationStill } from "./calibrating/read-stills.js";
export { checkTake } from "./checking/dry-check.js";
export { csvText } from "./files/csv-text.js";
export { mapFiles } from "./files/map-files.js";
export { prepareOutput } from "./files/prepare-output.js";
export { programVersion } from "./files/program-version.js";
export { readPlan, readResult } from "./files/read-plan.js";
export { checkScale, readScale } from "./files/read-scale.js";
export { checkTakeFile, readTakeFile, takeFileOf } from "./files/read-take-file.js";
export { readTips } from "./files/read-tips.js";
export { realPath } from "./files/real-path.js";
export { tipsCsv } from "./files/tips-csv.js";
export { trackCsv } from "./files/track-csv.js";
export { unreadableReason } from "./files/unreadable-reason.js";
export { removeLeftovers, type WriteOptions, writeOutputs } from "./files/write-outputs.js";
export { eachPicture } from "./footage/frame-samples.js";
export { openFootage } from "./footage/open-footage.js";
export { measureTake } from "./measure-take.js";
export { assemblePlan, type PlanReport, type PlanSubject } from "./planning/assemble-plan.js";
export { compareTake } from "./planning/compare-take.js";
export { earlierTake } from "./planning/earlier-take.js";
export { eventCourse } from "./result/event-course.js";
export { mapQuantities } from "./result/map-quantities.js";
export { checkPlan } from "./schemas/check-plan.js";
export { checkResult } from "./schemas/check-result.js";
export {
  checkJsonSchema,
  eventsJsonSchema,
  planJsonSchema,
  resultJsonSchema,
  scaleJsonSchema,
  takeJsonSchema,
} from "./schemas/json-schemas.js";
export { copyFrames } from "./search/copy-frames.js";
export { findInTake } from "./search/find-in-take.js";
export { prepareCopy } from "./search/prepare-copy.js";
export { TakeError, type TakeErrorCode, type TakeErrorFields } from "./take-error.js";
export type * from "./types.js";
