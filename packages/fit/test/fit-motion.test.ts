import { describe, expect, it } from "vitest";
import { fitMotion, MOTION_MODELS, type MotionModelName } from "../src/index.js";
import { expectRelative } from "./support/expect-close.js";
import { motionTruths } from "./support/motion-truths.js";
import { autoregressive, seededNormal } from "./support/seeded-noise.js";

const frames = Array.from({ length: 60 }, (_, i) => i);
const SOUND = { soundSpeed: 4 };
const truths = motionTruths(frames.length, SOUND.soundSpeed);

describe.each(truths)("fitMotion with model $name", ({ name, positionAt, speedAt, parameters }) => {
  const exact = frames.map(positionAt);

  // Positions to 600 in doubles, and least squares that stop at rounding.
  it("finds the parameters of exact positions to 1e-6, and speed and position at any time", () => {
    const { model, speed } = fitMotion(frames, exact, { model: name, ...SOUND });
    expect(Object.keys(model.parameters)).toEqual(Object.keys(parameters));
    for (const [key, value] of Object.entries(parameters))
      expectRelative(model.parameters[key].value, value, 1e-6);
    for (const t of [0, 7.3, 41, 59]) {
      expectRelative(model.positionAt(t), positionAt(t), 1e-8);
      expectRelative(model.speedAt(t).value, speedAt(t), 1e-5);
    }
    expect(speed.time).toBe(29.5);
    expect(speed.modelChoiceUncertainty).toBe(0);
  });

  it("is chosen by auto from exact positions", () => {
    const { model, tried } = fitMotion(frames, exact, SOUND);
    expect(model.name).toBe(name);
    expect(tried.map((one) => one.name).sort()).toEqual([...MOTION_MODELS].sort());
    expect(tried.filter(({ verdict }) => verdict === "chosen")).toHaveLength(1);
  });

  it("moves with the clock and stretches with the scale", () => {
    const later = frames.map((t) => 1e-5 * t + 100);
    const options = { model: name, soundSpeed: SOUND.soundSpeed * 1e2 } as const;
    const { model } = fitMotion(
      later,
      exact.map((p) => 1e-3 * p),
      options,
    );
    for (const [key, value] of Object.entries(parameters)) {
      const found = model.parameters[key].value;
      if (key === "breakTime" || key === "startTime") expectRelative((found - 100) / 1e-5, value, 1e-4);
      else if (key.endsWith("peed")) expectRelative(found, value * 1e2, 1e-4);
      else if (key === "acceleration") expectRelative(found, value * 1e7, 1e-4);
      else if (key === "timeConstant" || key === "decayTime") expectRelative(found, value * 1e-5, 1e-4);
    }
  });
});

describe("fitMotion", () => {
  it("gives constant and constant acceleration as polynomials have them: standard uncertainties by hand", () => {
    const u = 0.1;
    const noise = seededNormal(3);
    const y = frames.map((t) => 3 * t + u * noise());
    const { parameters, residualTests, chiSquared } = fitMotion(frames, y, {
      model: "constant",
      standardUncertainty: u,
    }).model;
    const squares = frames.reduce((sum, t) => sum + (t - 29.5) ** 2, 0);
    const r = Math.max(0, residualTests.autocorrelation);
    const inflation = (1 + r) / (1 - r);
    const scatter = Math.max(1, chiSquared / (60 - 2 * inflation));
    expectRelative(
      parameters.speed.standardUncertainty,
      u * Math.sqrt((inflation * scatter) / squares),
      1e-9,
    );
  });

  it("takes three times the variance below 20 positions", () => {
    const noise = seededNormal(5);
    const few = frames.slice(0, 12);
    const y = few.map((t) => 3 * t + 0.1 * noise());
    const { model } = fitMotion(few, y, { model: "constant", standardUncertainty: 0.1 });
    const squares = few.reduce((sum, t) => sum + (t - 5.5) ** 2, 0);
    expectRelative(
      model.parameters.speed.standardUncertainty,
      Math.sqrt((3 * (model.chiSquared / 10) * 0.01) / squares),
      1e-9,
    );
    expect(model.degreesOfFreedom).toBe(10);
  });

  it("prefers the constant speed within 2 of the least, and says what it rejected and by how much", () => {
    const noise = seededNormal(1);
    const y = frames.map((t) => 5 + 5 * t + 0.05 * noise());
    const { model, tried, speed } = fitMotion(frames, y, { standardUncertainty: 0.05 });
    expect(model.name).toBe("constant");
    for (const { verdict, aiccAboveLeast } of tried) {
      if (verdict === "rejected") expect(aiccAboveLeast).toBeGreaterThan(2);
      if (verdict === "as-good" || verdict === "chosen") expect(aiccAboveLeast).toBeLessThanOrEqual(2);
    }
    const rivals = tried.filter(({ verdict }) => verdict === "as-good");
    const farthest = Math.max(0, ...rivals.map((one) => Math.abs(one.speed! - speed.value)));
    expect(speed.modelChoiceUncertainty).toBeLessThanOrEqual(farthest);
    expect(speed.modelChoiceUncertainty > 0).toBe(rivals.length > 0);
  });

  it("says by its residual tests that a constant speed does not fit a front that slows", () => {
    const noise = seededNormal(2);
    const y = frames.map((t) => 5 + 5 * t - 0.01 * t * t + 0.05 * noise());
    const constant = fitMotion(frames, y, { model: "constant", standardUncertainty: 0.05 }).model;
    const slowing = fitMotion(frames, y, { model: "constant-acceleration", standardUncertainty: 0.05 }).model;
    expect(constant.residualTests.isRandom).toBe(false);
    expect(constant.residualTests.runs).toBeLessThan(-5);
    expect(constant.residualTests.autocorrelation).toBeGreaterThan(0.8);
    expect(slowing.residualTests.isRandom).toBe(true);
  });

  it("takes gaps as gaps", () => {
    const gappy = frames.filter((t) => t < 10 || t > 25);
    const { model } = fitMotion(
      gappy,
      gappy.map((t) => 5 + 2 * t),
      { model: "constant" },
    );
    expectRelative(model.parameters.speed.value, 2, 1e-12);
  });

  it("is not led to other models by residuals that wander together in more than a third of 60 series", () => {
    let other = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const normal = seededNormal(seed);
      const wander = autoregressive(60, 0.1, 0.6, normal);
      const y = frames.map((t) => 5 + 5 * t + wander[t] + 0.05 * normal());
      if (fitMotion(frames, y, { standardUncertainty: 0.05 }).model.name !== "constant") other++;
    }
    expect(other).toBeLessThan(20);
  }, 120_000);
});

const bad: [string, number[], number[], object, string][] = [
  ["lengths that differ", [1, 2, 3], [1, 2], {}, "positions must have the length of times, 3, got 2"],
  ["two positions", [1, 2], [1, 2], {}, "times must hold at least 3 points, got 2"],
  ["times that stand still", [1, 1, 2], [1, 2, 3], {}, "times[1] must be > times[0], 1, got 1"],
  ["a position that is no number", [1, 2, 3], [1, Number.NaN, 3], {}, "positions[1] must be finite, got NaN"],
  ["a front that runs back", [1, 2, 3], [3, 2, 1], {}, "positions must go up on the whole, got 3 to 1"],
  [
    "an uncertainty of zero",
    [1, 2, 3],
    [1, 2, 3],
    { standardUncertainty: 0 },
    "standardUncertainty[0] must be",
  ],
  [
    "a start after the first",
    [1, 2, 3],
    [1, 2, 3],
    { startTime: 1 },
    "startTime must be before the first time, 1",
  ],
  ["no speed of sound", [1, 2, 3], [1, 2, 4], { model: "decaying-shock" }, "soundSpeed must be given"],
  ["a source at zero", [1, 2, 3], [0, 2, 4], { model: "power-law" }, "distances from where it started, > 0"],
];
it.each(bad)("fitMotion refuses %s, and says what was given", (_, times, positions, options, message) => {
  const fit = () => fitMotion(times, positions, options as { model?: MotionModelName });
  expect(fit).toThrow(RangeError);
  expect(fit).toThrow(message);
});
