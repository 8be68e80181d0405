import type { TakeResult } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import { describeBudget } from "../../src/measure/describe-budget.js";
import { alignColumns } from "../../src/terminal/align-columns.js";
import { wrapText } from "../../src/terminal/wrap-text.js";

type Speed = Extract<TakeResult, { status: "measured" }>["speed"];

const line = (
  source: string,
  type: "A" | "B",
  standardUncertainty: number,
  degreesOfFreedom: number | null,
) => ({ source, type, standardUncertainty, degreesOfFreedom, relative: standardUncertainty / 1000 });

/** Written by hand, not measured: 3, 4 and 12 m/s make 13. */
const speed: Speed = {
  value: 1000,
  standardUncertainty: 13,
  expandedUncertainty: 30,
  coverageFactor: 2.3,
  coverageProbability: 0.95,
  degreesOfFreedom: 8.25,
  complete: true,
  missing: [],
  budget: [
    line("fit", "A", 0, 24),
    line("wander", "A", 3, 24),
    line("front definition", "B", 12, 6.5),
    line("scale", "B", 4, null),
    line("rate", "B", 0, null),
  ],
  notEvaluated: [
    { source: "lens", reason: "the distortion is not known" },
    { source: "refraction", reason: "no window was described" },
  ],
};

describe("the budget on the terminal", () => {
  it("shows the three largest lines, and says how many are smaller and how many not evaluated", () => {
    expect(describeBudget(speed, false)).toEqual([
      "where the uncertainty comes from (share of the variance):",
      "  front definition: 85 % (12 m/s, type B)",
      "  scale: 9.5 % (4.0 m/s, type B)",
      "  wander: 5.3 % (3.0 m/s, type A)",
      "  besides: 2 smaller, 2 not evaluated (--budget shows them)",
    ]);
  });

  it("says nothing of others where there are none", () => {
    const { notEvaluated: _, ...older } = speed;
    const shown = describeBudget({ ...older, budget: speed.budget.slice(1, 4) }, false);
    expect(shown).toHaveLength(4);
    expect(shown.join()).not.toContain("besides");
  });

  it("whole: every line with type, degrees of freedom and relative size, then what is not evaluated, and why", () => {
    expect(describeBudget(speed, true)).toEqual([
      "where the uncertainty comes from (u: one standard uncertainty, k = 1):",
      "                    u, m/s  of the speed  of the variance  type  degrees of freedom",
      "  front definition  12      1.2 %         85 %             B     6.5",
      "  scale             4.0     0.40 %        9.5 %            B     infinite",
      "  wander            3.0     0.30 %        5.3 %            A     24",
      "  fit               0       0 %           0.0 %            A     24",
      "  rate              exact                                  B     infinite",
      "  combined          13      1.3 %                                8.3",
      "  fit and wander are parts of one estimate and count once in the degrees of freedom",
      "not evaluated, and not in the interval unless it says so:",
      "  lens: the distortion is not known",
      "  refraction: no window was described",
    ]);
  });

  it("whole: names a scale without a stated uncertainty first among what is not evaluated", () => {
    const budget = speed.budget.slice(0, 1);
    const shown = describeBudget({ ...speed, complete: false, missing: ["scale"], budget }, true);
    const from = shown.indexOf("not evaluated, and not in the interval unless it says so:");
    expect(shown[from + 1]).toBe("  scale: its uncertainty was not stated");
    expect(shown.join()).not.toContain("parts of one estimate");
  });

  it("does not print long rows of digits for degrees of freedom", () => {
    const { degreesOfFreedom: _, ...rest } = speed;
    const combined = (degreesOfFreedom: number | null) =>
      describeBudget({ ...rest, degreesOfFreedom }, true).find((row) => row.startsWith("  combined"));
    expect(combined(123456.789)).toMatch(/ over 1000$/);
    expect(combined(123.456)).toMatch(/ 123$/);
    expect(combined(null)).toMatch(/ infinite$/);
  });
});

describe("alignColumns", () => {
  it("gives columns of equal width, and leaves nothing behind the last text", () => {
    expect(
      alignColumns([
        ["a", "bbb", "c"],
        ["aaaa", "b", ""],
      ]),
    ).toEqual(["a     bbb  c", "aaaa  b"]);
  });
});

describe("wrapText", () => {
  it("breaks at spaces within the width, indents what follows and loses no word", () => {
    const text = "one two three four five six seven";
    const lines = wrapText(text, 12, "  ");
    expect(lines).toEqual(["one two", "  three four", "  five six", "  seven"]);
    expect(lines.map((row) => row.trim()).join(" ")).toBe(text);
  });

  it("keeps a number and its percent sign on one line, and a word longer than the width whole", () => {
    expect(wrapText("makes 1 % more", 8, "")).toEqual(["makes", "1 % more"]);
    expect(wrapText("aa bbbbbbbbbbbb c", 5, "")).toEqual(["aa", "bbbbbbbbbbbb", "c"]);
  });
});
