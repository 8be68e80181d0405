import { expect, it } from "vitest";
import * as tracker from "../src/index.js";

it("the package exports trackFront and no other value", () => {
  expect(Object.keys(tracker)).toEqual(["trackFront"]);
});
