export type { ActivityPicture } from "./charts/activity-picture.js";
export { drawActivity } from "./charts/draw-activity.js";
export { drawFit } from "./charts/draw-fit.js";
export { drawPlan } from "./charts/draw-plan.js";
export { drawStreak } from "./charts/draw-streak.js";
export { drawStreakSamples } from "./charts/draw-streak-samples.js";
export type { FitPicture, FitPoint } from "./charts/fit-picture.js";
export type { PlanPicture, PlanPoint } from "./charts/plan-picture.js";
export type { PictureLine, StreakPicture, StreakPoint } from "./charts/streak-picture.js";
export { commonRange } from "./drawing/brightness-range.js";
export type { CellValues } from "./maps/cell-values.js";
export type { IsochronesPicture } from "./maps/draw-isochrones.js";
export { drawIsochrones } from "./maps/draw-isochrones.js";
export type { SpeedMapPicture } from "./maps/draw-speed-map.js";
export { drawSpeedMap } from "./maps/draw-speed-map.js";
export type { SpeedRosePicture } from "./maps/draw-speed-rose.js";
export { drawSpeedRose } from "./maps/draw-speed-rose.js";
export { drawOverlay, type Overlay } from "./overlay/draw-overlay.js";
export { type JoinedPictures, joinPictures } from "./overlay/join-pictures.js";
export type { OverlayFrame, OverlayInput, OverlayNote } from "./overlay/overlay-input.js";
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
export type { BranchCourse, BranchesPicture } from "./stills/draw-branches.js";
export { drawBranches } from "./stills/draw-branches.js";
export { drawFoundPoints } from "./stills/draw-found-points.js";
export type { PlainStill } from "./stills/draw-still-pictures.js";
export { drawStillPictures } from "./stills/draw-still-pictures.js";
export type { FoundPointsPicture } from "./stills/found-points-picture.js";
export type * from "./words/reported-result.js";
