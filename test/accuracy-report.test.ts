import { describe, expect, it, vi } from "vitest";
import { FULL_RUN, FULL_STILL, type Run, reportRuns } from "../scripts/accuracy/report-runs.js";
import type { Trial } from "../scripts/accuracy/try-take.js";

/** Written by hand: a take whose interval holds the truth, or does not. */
function trial(seed: number, holds: boolean, changes: Partial<Trial> = {}): Trial {
  return {
    seed,
    status: "measured",
    reason: "",
    frames: 40,
    framesUsed: 30,
    pixelsPerFrame: 2,
    stepToNoise: 5,
    exposureFraction: 0.5,
    wander: 0,
    wanderCorrelation: 0,
    warnings: [],
    boundFit: 0.001,
    boundTotal: 0.005,
    error: holds ? 0.005 : 0.02,
    halfWidth: 0.01,
    positionSquares: 10,
    positionCount: 10,
    ...changes,
  };
}

/** A run in which every `missEvery`-th interval misses the truth. */
function runOf(takes: number, missEvery: number, changes: Partial<Trial> = {}): Run {
  const trials = (count: number, more: Partial<Trial>) =>
    Array.from({ length: count }, (_, k) => trial(k, k % missEvery !== 0, { ...changes, ...more }));
  return {
    name: "by hand",
    mixed: trials(takes, {}),
    white: trials(Math.ceil(takes / 4), {}),
    still: trials(Math.min(FULL_STILL, takes), { status: "not-found" }),
  };
}

describe("the report of the accuracy trials", () => {
  function report(run: Run) {
    const log = vi.spyOn(console, "log").mockImplementation(() => {});
    const missed = reportRuns([run]);
    const printed = log.mock.calls.map(([line]) => String(line));
    log.mockRestore();
    return { missed, rowOf: (bar: string) => printed.find((line) => line.startsWith(`| ${bar}`)) };
  }

  it("judges no bar on 40 takes, whatever they show, and says what each would need", () => {
    const { missed, rowOf } = report(runOf(40, 2, { positionSquares: 30 }));
    expect(missed).toBe(0);
    expect(rowOf("takes measured")).toContain("40, not judged: needs a run of 2600 takes |");
    expect(rowOf("hold the truth")).toContain("50.0 %, not judged: needs 2000 measured takes |");
    expect(rowOf("worst cell")).toContain("not judged: needs 200 measured takes in a cell |");
    expect(rowOf("median half-width")).toContain("not judged: needs 200 measured takes |");
    expect(rowOf("position error")).toContain("not judged: needs 650 takes with white noise only |");
    expect(rowOf("measured where the bound")).toContain("not judged: needs 200 such takes |");
    expect(rowOf("still takes")).toContain("0 of 40, not judged: needs 500 still takes |");
  });

  it("judges on 300 takes what 300 takes can tell", () => {
    const { missed, rowOf } = report(runOf(300, 5));
    expect(rowOf("hold the truth")).toContain("not judged");
    expect(rowOf("worst cell")).toContain("80.0 % (all) MISSED |");
    expect(missed).toBe(1);
  });

  it("judges every bar in a full run, also where few takes are measured", () => {
    expect(report(runOf(FULL_RUN, 20)).missed).toBe(0);
    const poor = report(runOf(FULL_RUN, 2, { positionSquares: 30, boundTotal: 0.001 }));
    expect(poor.rowOf("hold the truth")).toContain("50.0 % MISSED |");
    expect(poor.rowOf("worst cell")).toContain("50.0 % (all) MISSED |");
    expect(poor.rowOf("median half-width")).toContain("MISSED |");
    expect(poor.rowOf("position error")).toContain("MISSED |");
    expect(poor.missed).toBe(4);
    const none = report(runOf(FULL_RUN, 20, { status: "not-found" }));
    expect(none.rowOf("takes measured")).toContain("0 MISSED |");
    expect(none.rowOf("hold the truth")).toContain("MISSED |");
    expect(none.rowOf("measured where the bound")).toContain("MISSED |");
  });
});
