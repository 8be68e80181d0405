import { expect, it } from "vitest";
import * as tracker from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(tracker).sort()).toEqual(["inspectFootage", "tiltWarnings", "trackFront"]);
});
