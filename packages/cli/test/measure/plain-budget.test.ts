import { expect, it } from "vitest";
import { plainBudget } from "../../src/measure/plain-budget.js";

it("the whole budget is asked for by --budget, --budget all and --budget=all alike, before the take and behind it", () => {
  for (const words of [["--budget"], ["--budget", "all"], ["--budget=all"]]) {
    expect(plainBudget(["measure", ...words, "tile-07"])).toEqual(["measure", "--budget", "tile-07"]);
    expect(plainBudget(["measure", "tile-07", ...words])).toEqual(["measure", "tile-07", "--budget"]);
  }
});

it("a take that is named all is left where it does not follow --budget, or stands behind two dashes", () => {
  expect(plainBudget(["measure", "all", "--budget"])).toEqual(["measure", "all", "--budget"]);
  expect(plainBudget(["measure", "--budget", "--", "all"])).toEqual(["measure", "--budget", "--", "all"]);
});
