import { describe, expect, it } from "vitest";
import { drawCrossing } from "../scripts/accuracy/draw-crossing.js";
import { reportBounds } from "../scripts/accuracy/report-bounds.js";
import { allowed, type CrossingTrial } from "../scripts/accuracy/try-crossing.js";

/** Written by hand: a take whose bound has this share of the truth and of what its frames allow. */
const trial = (boundToTruth: number, boundToAllowed: number): CrossingTrial => ({
  status: "bounded",
  reason: "",
  pathGiven: false,
  exposureStated: true,
  boundToTruth,
  boundToAllowed,
  holds: false,
});

function report(trials: readonly CrossingTrial[]) {
  const lines: string[] = [];
  const missed = reportBounds(trials, (line) => lines.push(line));
  return { missed, text: lines.join("\n") };
}

describe("reportBounds", () => {
  const good = Array.from({ length: 19 }, () => trial(0.5, 0.9));

  it("lets one bound in twenty above the truth, not two", () => {
    expect(report([...good, trial(1.1, 0.9)]).missed).toBe(0);
    const worse = report([...good.slice(1), trial(1.1, 0.9), trial(1.2, 0.9)]);
    expect(worse.missed).toBe(1);
    expect(worse.text).toContain("MISSED: bounds at most the truth: 90.0 %");
  });

  it("wants a median of half of what the frames allow", () => {
    const timid = report([trial(0.2, 0.3), trial(0.2, 0.4), trial(0.2, 0.9)]);
    expect(timid.missed).toBe(1);
    expect(timid.text).toContain("MISSED: median bound / what the frames allow: 0.400");
  });

  it("misses both bars where there is no bound at all", () => {
    expect(
      report([{ ...trial(Number.NaN, Number.NaN), status: "not-found", reason: "no-change" }]),
    ).toMatchObject({
      missed: 2,
      text: expect.stringContaining("not found: 1 no-change"),
    });
  });
});

describe("allowed", () => {
  it("is the whole path over the frames that show it untouched and crossed, and one exposure", () => {
    const take = {
      ...drawCrossing(1),
      ...{ along: 101, path: null, pixelsPerFrame: 50, exposureFraction: 0.5, numbers: [0, 1, 2, 3, 4] },
      // Half a smear of 12.5 px: frame 1 has just not reached 0, frame 4 left 100 behind.
      ...{
        front: Float64Array.of(-62.5, -12.5, 37.5, 87.5, 137.5),
        trueRateHz: 1000,
        trueMetresPerPixel: 1e-3,
      },
    };
    // 100 px of 1 mm in 3 intervals and half of one
    expect(Math.abs(allowed(take) / (0.1 / 0.0035) - 1)).toBeLessThan(1e-12);
    expect(allowed(take)).toBeLessThan(50 * 1000 * 1e-3);
  });
});
