import { expect, it } from "vitest";
import * as report from "../src/index.js";
import * as words from "../src/words/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(report).sort()).toEqual([
    "commonRange",
    "drawActivity",
    "drawBranches",
    "drawFit",
    "drawFoundPoints",
    "drawIsochrones",
    "drawOverlay",
    "drawPlan",
    "drawSpeedMap",
    "drawSpeedRose",
    "drawStillPictures",
    "drawStreak",
    "drawStreakSamples",
    "joinPictures",
    "reportPage",
    "summaryPage",
  ]);
});

it("report/words exports these values and no others", () => {
  expect(Object.keys(words).sort()).toEqual([
    "branchText",
    "budgetRows",
    "caution",
    "channelTexts",
    "comparisonRows",
    "describeBranches",
    "describeModel",
    "describeShape",
    "drawnMark",
    "effectsLeftOut",
    "folderOfTake",
    "framesTexts",
    "freedomText",
    "frontText",
    "intervalText",
    "lineTexts",
    "percentText",
    "relativeText",
    "roundDown",
    "roundPair",
    "scaleTexts",
    "sharedEstimate",
    "speedText",
    "threeDigits",
    "tiltTexts",
    "twoDigits",
    "wholeNumber",
    "withUnit",
    "withoutText",
  ]);
});
