export type { ActivityPicture } from "./activity-picture.js";
export { commonRange } from "./brightness-range.js";
export type { CellValues } from "./cell-values.js";
export { drawActivity } from "./draw-activity.js";
export type { BranchCourse, BranchesPicture } from "./draw-branches.js";
export { drawBranches } from "./draw-branches.js";
export { drawFit } from "./draw-fit.js";
export { drawFoundPoints } from "./draw-found-points.js";
export type { IsochronesPicture } from "./draw-isochrones.js";
export { drawIsochrones } from "./draw-isochrones.js";
export { drawOverlay, type Overlay } from "./draw-overlay.js";
export { drawPlan } from "./draw-plan.js";
export type { SpeedMapPicture } from "./draw-speed-map.js";
export { drawSpeedMap } from "./draw-speed-map.js";
export type { SpeedRosePicture } from "./draw-speed-rose.js";
export { drawSpeedRose } from "./draw-speed-rose.js";
export type { PlainStill } from "./draw-still-pictures.js";
export { drawStillPictures } from "./draw-still-pictures.js";
export { drawStreak } from "./draw-streak.js";
export { drawStreakSamples } from "./draw-streak-samples.js";
export type { FitPicture, FitPoint } from "./fit-picture.js";
export type { FoundPointsPicture } from "./found-points-picture.js";
export { type JoinedPictures, joinPictures } from "./join-pictures.js";
export type { OverlayFrame, OverlayInput, OverlayNote } from "./overlay-input.js";
export type { ReportInput, ReportPictures } from "./page/page-input.js";
export { reportPage } from "./page/report-page.js";
export type {
  ReportedSummary,
  SummaryExtras,
  SummaryRepeats,
  SummarySpeed,
  SummaryTake,
} from "./page/summary-input.js";
export { summaryPage } from "./page/summary-page.js";
export type { PlanPicture, PlanPoint } from "./plan-picture.js";
export type { PictureLine, StreakPicture, StreakPoint } from "./streak-picture.js";
export type * from "./words/reported-result.js";
