export { checkSameTake } from "./check-same-take.js";
export { comparePlan } from "./compare-plan.js";
export { compareSettings, type Settings } from "./compare-settings.js";
export type * from "./comparison-types.js";
export { crackSpeedsIn, findMaterial, statusInWords, wavesIn } from "./find-material.js";
export { fitRowTime } from "./fit-row-time.js";
export { modesOfHeight, seriesOf } from "./interpolate-mode.js";
export { limbExcess, radiusFromLimb } from "./limb-excess.js";
export { mainsFlicker } from "./mains-flicker.js";
export {
  type CrackSpeed,
  crackShares,
  type Elastic,
  type Material,
  materials,
  type SourceStatus,
} from "./materials.js";
export type * from "./mode-types.js";
export { planModes } from "./plan-modes.js";
export type * from "./plan-types.js";
export { PlannerError, type PlannerErrorCode, type PlannerErrorFields } from "./planner-error.js";
export { PLAYBACK_RATES, playbackSeconds } from "./playback.js";
export {
  type PointExplosion,
  type PointExplosionEnergy,
  pointExplosionEnergy,
} from "./point-explosion-energy.js";
export { type ExpectedReading, positionUncertainty, speedUncertainty } from "./predict-uncertainty.js";
export { predictionLabel } from "./prediction-label.js";
export { poissonRatioOf, rayleighRatio, type WaveSpeeds, waveSpeeds } from "./rayleigh-speed.js";
export { readModes } from "./read-modes.js";
export type * from "./request-types.js";
export { machFromHalfAngle, type NormalShock, normalShock } from "./shock-relations.js";
export { machNumber, soundSpeed, type Uncertain } from "./sound-speed.js";
