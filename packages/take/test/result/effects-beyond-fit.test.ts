import { describe, expect, it } from "vitest";
import { assembleResult } from "../../src/result/assemble-result.js";
import { effectsBeyondFit } from "../../src/result/effects-beyond-fit.js";
import { checkResult } from "../../src/schemas/check-result.js";
import type { MeasuredResult } from "../../src/types.js";
import { frames, relativeDifference, settings, tracked } from "../outcomes.js";

type Line = (typeof tracked)["track"]["line"];

/** The track of the test doubles with another line; 2 px/frame are 40 m/s there, and 0.02 px/frame 0.4 m/s. */
const trackWith = (line: Partial<Line>, tilt: (typeof tracked)["track"]["tilt"] = null) => ({
  ...tracked.track,
  tilt,
  line: { ...tracked.track.line, ...line },
});

const measured = (line: Partial<Line>, stated = settings): MeasuredResult => {
  const { result } = assembleResult({ ...tracked, track: trackWith(line) }, stated, frames);
  if (result.status !== "measured") throw new Error(result.status);
  return result;
};

const definition = (standardUncertaintyPixelsPerFrame: number): Partial<Line> => ({
  contributions: {
    ...tracked.track.line.contributions,
    frontDefinition: { standardUncertaintyPixelsPerFrame, degreesOfFreedom: Number.POSITIVE_INFINITY },
  },
});

const everyEffect = [
  ...["wander", "front definition", "event plane against scale plane", "obliquity", "lens", "refraction"],
  ...["time base", "motion of pane or camera", "model choice"],
];

describe("a circle", () => {
  it("has the limb of a sphere among what is not evaluated, a front along a path has not", () => {
    const sources = (isCircle: boolean) =>
      effectsBeyondFit(tracked.track, null, { isCircle }).notEvaluated.map(({ source }) => source);
    expect(sources(true)).toContain("limb of a sphere");
    expect(sources(false)).not.toContain("limb of a sphere");
  });
});

describe("effectsBeyondFit", () => {
  it("names every effect once: with its figure and type, or with the reason why it has none", () => {
    const evaluated = { standardUncertaintyPixelsPerFrame: 0.01, degreesOfFreedom: 7 };
    const contributions = {
      frontDefinition: evaluated,
      timeBase: evaluated,
      motion: evaluated,
      modelChoice: evaluated,
    };
    const none = effectsBeyondFit(trackWith({ wanderShare: null }));
    expect(none.further).toEqual([]);
    expect(none.notEvaluated.map(({ source }) => source)).toEqual(everyEffect);

    const all = effectsBeyondFit(trackWith({ contributions }));
    expect(all.further).toEqual([
      { source: "front definition", type: "B", ...evaluated },
      { source: "time base", type: "B", ...evaluated },
      { source: "motion of pane or camera", type: "A", ...evaluated },
      { source: "model choice", type: "B", ...evaluated },
    ]);
    expect(all.notEvaluated.map(({ source }) => source)).toEqual(everyEffect.slice(2, 6));
  });

  it("passes on the tracker's own reason, and gives few frames as the reason for a wander not told apart", () => {
    const reasons = new Map(
      effectsBeyondFit(trackWith({ wanderShare: null })).notEvaluated.map(({ source, reason }) => [
        source,
        reason,
      ]),
    );
    expect(reasons.get("motion of pane or camera")).toBe("by hand");
    expect(reasons.get("wander")).toMatch(/^fewer than 20 frames .* three times the variance/);
  });

  it("says at which angle the front meets the path, where that is known", () => {
    const reason = (tilt: { degrees: number; standardUncertaintyDegrees: number } | null) =>
      effectsBeyondFit(trackWith({}, tilt)).notEvaluated.find(({ source }) => source === "obliquity")?.reason;
    expect(reason({ degrees: -3.21, standardUncertaintyDegrees: 0.1 })).toContain(
      "the speed is that along the path (tilt of the front against it: 3.2 degrees).",
    );
    expect(reason(null)).toContain("(tilt of the front against it: not known).");
  });
});

describe("speed.budget of a result", () => {
  it("has fit, wander, the track's effects, scale and rate, each with its size relative to the speed", async () => {
    const result = measured(definition(0.04));
    expect(result.speed.budget.map(({ source }) => source)).toEqual([
      ...["fit", "wander", "front definition", "scale", "rate"],
    ]);
    // 0.02 px/frame is 1 % of the slope, a quarter of its variance wander; 0.04 is 2 %; the scale is stated to 1 %
    const expected = [0.01 * Math.sqrt(0.75), 0.005, 0.02, 0.01];
    result.speed.budget.slice(0, 4).forEach(({ relative }, k) => {
      expect(relativeDifference(relative!, expected[k])).toBeLessThan(1e-12);
    });
    expect(result.speed.budget[4].relative).toBe(0);
    expect(
      relativeDifference(result.speed.standardUncertainty, 40 * Math.hypot(0.01, 0.02, 0.01)),
    ).toBeLessThan(1e-12);
    expect(result.model.parameters.speed.standardUncertainty).toBe(result.speed.standardUncertainty);
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
  });

  it("holds no effect that is also listed as not evaluated, and an unstated scale is in `missing` alone", () => {
    const { speed } = measured(definition(0.04), { ...settings, metresPerPixel: { value: 2e-4 } });
    const named = [
      ...speed.budget.map(({ source }) => source),
      ...speed.notEvaluated!.map(({ source }) => source),
      ...speed.missing,
    ];
    expect([...new Set(named)]).toEqual(named);
    expect([...named].sort()).toEqual([...everyEffect, "fit", "rate", "scale"].sort());
    expect(speed.missing).toEqual(["scale"]);
  });

  it("still accepts a result of before that has neither key", async () => {
    const { speed, ...rest } = measured({});
    const { notEvaluated: _, ...bare } = speed;
    const older = {
      ...rest,
      speed: { ...bare, budget: speed.budget.map(({ relative: __, ...line }) => line) },
    };
    expect(await checkResult(older)).toEqual(older);
  });
});

describe("the warning front-definition", () => {
  // The rest of the budget: 1 % of the fit and wander, 1 % of the scale, together 0.02 · sqrt(2) px/frame.
  const rest = 0.02 * Math.SQRT2;
  const warned = (line: Partial<Line>) =>
    measured(line).warnings.some(({ code }) => code === "front-definition");

  it("is raised where that line outweighs the rest together, and not below", () => {
    expect(warned(definition(1.001 * rest))).toBe(true);
    // larger than every other line, but not than all of them together
    expect(warned(definition(0.999 * rest))).toBe(false);
    expect(warned({})).toBe(false);
  });
});
