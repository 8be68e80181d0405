import { expect, it } from "vitest";
import * as fit from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(fit).sort()).toEqual([
    "MOTION_MODELS",
    "addWanderPrecision",
    "bandedDiagonal",
    "bandedDiagonalOf",
    "bandedZeros",
    "effectiveDegreesOfFreedom",
    "erf",
    "factorInformation",
    "findOutliers",
    "fitLinear",
    "fitMotion",
    "fitNonlinear",
    "fitPeriodic",
    "fitPolynomial",
    "fitWanderingLine",
    "informationTimes",
    "lineEvidence",
    "localSpeed",
    "median",
    "robustLine",
    "runsTest",
    "speedFrom",
    "studentFactor",
    "withRowTime",
  ]);
});
