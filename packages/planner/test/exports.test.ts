import { expect, it } from "vitest";
import * as planner from "../src/index.js";

it("the package exports what its README names, and nothing else", () => {
  expect(Object.keys(planner).sort()).toEqual([
    "PLAYBACK_RATES",
    "PlannerError",
    "checkSameTake",
    "comparePlan",
    "compareSettings",
    "crackSpeedsIn",
    "findMaterial",
    "fitRowTime",
    "mainsFlicker",
    "materials",
    "modesOfHeight",
    "planModes",
    "playbackSeconds",
    "poissonRatioOf",
    "positionUncertainty",
    "rayleighRatio",
    "readModes",
    "seriesOf",
    "speedUncertainty",
    "statusInWords",
    "waveSpeeds",
    "wavesIn",
  ]);
});
