import { expect, it } from "vitest";
import * as planner from "../src/index.js";

it("the package exports what its README names, and nothing else", () => {
  expect(Object.keys(planner).sort()).toEqual([
    "PLAYBACK_RATES",
    "PlannerError",
    "checkSameTake",
    "comparePlan",
    "compareSettings",
    "crackShares",
    "crackSpeedsIn",
    "findMaterial",
    "fitRowTime",
    "limbExcess",
    "machFromHalfAngle",
    "machNumber",
    "mainsFlicker",
    "materials",
    "modesOfHeight",
    "normalShock",
    "planModes",
    "playbackSeconds",
    "pointExplosionEnergy",
    "poissonRatioOf",
    "positionUncertainty",
    "predictionLabel",
    "radiusFromLimb",
    "rayleighRatio",
    "readModes",
    "seriesOf",
    "soundSpeed",
    "speedUncertainty",
    "statusInWords",
    "waveSpeeds",
    "wavesIn",
  ]);
});
