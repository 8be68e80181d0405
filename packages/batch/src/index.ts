export { amongOthers } from "./among-others.js";
export { assembleSummary, type BatchSummary } from "./assemble-summary.js";
export { describeAir } from "./describe-air.js";
export { describeMaterial } from "./describe-material.js";
export {
  type DrawnOverlays,
  drawOverlays,
  OVERLAY_KINDS,
  type OverlayKind,
  type OverlayWish,
  SEQUENCE_NAME,
} from "./draw-overlays.js";
export { drawReport, REPORT_FILES, REPORT_PICTURES } from "./draw-report.js";
export { drawSearch } from "./draw-search.js";
export { type FoundTake, findTakes, type SearchContext } from "./find-takes.js";
export { summaryJsonSchema } from "./json-schema.js";
export {
  type MeanOfRepeats,
  meanOfRepeats,
  type RepeatedSpeed,
  type SpeedPart,
} from "./mean-of-repeats.js";
export { type FilesWanted, type MeasuredFiles, measureToFiles } from "./measure-to-files.js";
export { type BatchContext, type BatchOptions, runBatch } from "./run-batch.js";
export { summaryCsv } from "./summary-csv.js";
export type {
  FailedOutcome,
  FootageSource,
  MeasuredOutcome,
  SharedSources,
  SummarisedResult,
  TakeFailure,
  TakeOutcome,
  TakeProgress,
} from "./types.js";
export { watchBatch } from "./watch-batch.js";
export { writeSummary } from "./write-summary.js";
