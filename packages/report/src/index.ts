export type { ActivityPicture } from "./activity-picture.js";
export { drawActivity } from "./draw-activity.js";
export { drawFit } from "./draw-fit.js";
export { drawPlan } from "./draw-plan.js";
export { drawStreak } from "./draw-streak.js";
export type { FitPicture, FitPoint } from "./fit-picture.js";
export type { PlanPicture, PlanPoint } from "./plan-picture.js";
export type { PictureLine, StreakPicture, StreakPoint } from "./streak-picture.js";
