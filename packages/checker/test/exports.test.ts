import { expect, it } from "vitest";
import * as checker from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(checker).sort()).toEqual([
    "checkClock",
    "checkDrift",
    "checkExposure",
    "checkFocus",
    "checkFrames",
    "checkLight",
    "checkMode",
    "checkNoise",
    "checkPattern",
    "clockedRate",
    "isNoiseAlike",
    "pixelPattern",
  ]);
});
