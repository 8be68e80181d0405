import { expect, it } from "vitest";
import * as arrival from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(arrival).sort()).toEqual([
    "arrivalMap",
    "circularFront",
    "frontShape",
    "localMotion",
    "radialPositions",
    "straightFront",
  ]);
});
