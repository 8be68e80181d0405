import { expect, it } from "vitest";
import * as finder from "../src/index.js";

it("the package exports findEvents and no other value", () => {
  expect(Object.keys(finder)).toEqual(["findEvents"]);
});
