import { expect, it } from "vitest";
import * as calibration from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(calibration).sort()).toEqual([
    "CalibrationError",
    "betweenWindows",
    "distort",
    "edgesAlong",
    "findGrid",
    "fitHomography",
    "fitLens",
    "lengthUncertainty",
    "lengthsAlong",
    "noiseOf",
    "orientedMap",
    "planePoint",
    "scaleFromLengths",
    "scaleFromPlane",
    "undistort",
  ]);
});
