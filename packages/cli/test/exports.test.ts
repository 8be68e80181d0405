import { expect, it } from "vitest";
import * as cli from "../src/index.js";

it("the package exports these values and no others", () => {
  expect(Object.keys(cli).sort()).toEqual(["exitCodes", "run"]);
});
