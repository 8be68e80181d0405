import { expect, it } from "vitest";
import * as cracks from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(cracks).sort()).toEqual(["crackNetwork"]);
});
