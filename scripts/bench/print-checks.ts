import { type Check, holds } from "./row.js";

/** One line for each figure: what it is, what it must be, whether it is. */
export function checkLines(checks: readonly Check[]): string[] {
  const width = Math.max(...checks.map(({ what }) => what.length));
  return checks.map((check) => {
    const { what, value, bar, note } = check;
    const figure = value === null ? "-" : `${number(value, unitOf(check))} ${unitOf(check)}`;
    if (bar === "floor")
      return `  ${what.padEnd(width)}  ${figure.padStart(12)}  ${"a floor".padEnd(18)} not judged  (${note})`;
    const verdict = { true: "holds", false: "MISSED", null: "not judged" }[String(holds(check))];
    return `  ${what.padEnd(width)}  ${figure.padStart(12)}  ${wanted(bar).padEnd(18)} ${verdict}  (${note})`;
  });
}

function unitOf({ bar }: Check): string {
  return bar === "floor" ? "times" : bar.unit;
}

function wanted(bar: Exclude<Check["bar"], "floor">): string {
  return "atLeast" in bar ? `at least ${bar.atLeast}` : `below ${bar.below}`;
}

function number(value: number, unit: string): string {
  return unit === "times" ? value.toFixed(2) : value.toFixed(0);
}
