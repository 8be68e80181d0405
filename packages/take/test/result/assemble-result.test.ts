import { describe, expect, it } from "vitest";
import { assembleResult } from "../../src/result/assemble-result.js";
import { checkResult } from "../../src/schemas/check-result.js";
import { crossed, frames, notFound, relativeDifference, settings, tracked } from "../outcomes.js";

const keys = [
  ...["format", "version", "program", "status", "speed", "lowerBound", "front", "model", "take"],
  ...["notFound", "warnings"],
];

describe("assembleResult", () => {
  it("multiplies slope, rate and scale, and adds their relative uncertainties in quadrature", () => {
    const { result } = assembleResult(tracked, settings, frames);
    if (result.status !== "measured") throw new Error(result.status);
    // 2 px/frame * 1e5 /s * 2e-4 m = 40 m/s; 1 % from the slope and 1 % from the scale
    expect(relativeDifference(result.speed.value, 40)).toBeLessThan(1e-12);
    expect(relativeDifference(result.speed.standardUncertainty, 40 * Math.hypot(0.01, 0.01))).toBeLessThan(
      1e-9,
    );
    expect(result.model.parameters.speed).toEqual({
      value: result.speed.value,
      standardUncertainty: result.speed.standardUncertainty,
      unit: "m/s",
    });
    expect(result.front).toMatchObject({ firstFrame: 0, lastFrame: 3, framesUsed: 3, direction: [1, 0] });
    expect(result.speed).toMatchObject({ complete: true, missing: [] });
    expect(result.warnings.map(({ code }) => code)).toEqual(["ignored-files", "few-frames"]);
  });

  it("gives every outcome the same keys in the same order, and each fits the schema", async () => {
    for (const outcome of [tracked, crossed, notFound]) {
      const { result } = assembleResult(outcome, settings, frames);
      expect(Object.keys(result)).toEqual(keys);
      expect(result.notFound === null).toBe(outcome.status !== "not-found");
      const read: unknown = JSON.parse(JSON.stringify(result));
      expect(await checkResult(read)).toEqual(result);
    }
  });

  it("names the channel, and the envelope of a cloud as what departures measure", async () => {
    const measured = (channel: "brightness" | "departures") => {
      const { result } = assembleResult(
        { ...tracked, track: { ...tracked.track, channel } },
        settings,
        frames,
      );
      if (result.status !== "measured") throw new Error(result.status);
      return result;
    };
    expect(measured("brightness").front.measurand).toMatch(/^mid-level of the change averaged/);
    const { front } = await checkResult(JSON.parse(JSON.stringify(measured("departures"))));
    expect(front).toMatchObject({ channel: "departures" });
    expect(front?.measurand).toMatch(/^envelope of a cloud/);
  });

  it.each([
    ["step", /^mid-level of the change averaged/],
    ["pulse", /^middle of the line that passes/],
    ["pair", /^middle between the bright line and the dark one/],
  ] as const)("says what of a %s is measured", (shape, measurand) => {
    const { result } = assembleResult({ ...tracked, track: { ...tracked.track, shape } }, settings, frames);
    expect(result.front?.measurand).toMatch(measurand);
  });

  it("calls a speed without stated uncertainties a reading only and says how to state them", () => {
    const { result } = assembleResult(tracked, { ...settings, metresPerPixel: { value: 2e-4 } }, frames);
    expect(result.speed).toMatchObject({ complete: false, missing: ["scale"] });
    const warning = result.warnings.find(({ code }) => code === "reading-only");
    expect(warning?.message).toContain("--scale 0.2mm+-0.5%");
    expect(warning?.message).toContain("+-0 if exact");
    expect(warning?.message).not.toContain("--rate");
  });

  it("says how the front looks, where the tracker does", () => {
    const front = (look: typeof tracked.track.look) =>
      assembleResult({ ...tracked, track: { ...tracked.track, look } }, settings, frames).result.front;
    expect(front({ edgeBlurPixels: 1.5, stepToNoise: 8 })).toMatchObject({
      edgeBlurPixels: 1.5,
      stepToNoise: 8,
    });
    expect(Object.keys(front(null) ?? {})).not.toContain("stepToNoise");
  });

  it("gives the speed along the normal of a tilted front, v cos 60 deg = v / 2", () => {
    const track = { ...tracked.track, tilt: { degrees: -60, standardUncertaintyDegrees: 0.5 } };
    const { result } = assembleResult({ ...tracked, track }, settings, frames);
    const tilt = result.front?.tilt;
    expect(tilt).toMatchObject({ degrees: -60, standardUncertainty: 0.5 });
    expect(relativeDifference(tilt?.normalSpeed ?? 0, 20)).toBeLessThan(1e-12);
  });

  it("gives no speed but a bound for a front that crossed between two frames", () => {
    const exact = { ...settings, metresPerPixel: { value: 2e-4, standardUncertainty: 0 } };
    const { result } = assembleResult(crossed, exact, frames);
    // 100 px * 2e-4 m in one interval and, exposure unknown, one more: 0.02 m / 2e-5 s
    expect(result.speed).toBeNull();
    expect(relativeDifference(result.lowerBound?.value ?? 0, 1000)).toBeLessThan(1e-12);
    expect(result.lowerBound).toMatchObject({ confidence: 0.95, complete: true, missing: [] });
  });

  it("takes the light pulse for the time of a frame in the bound, and says so of a speed", async () => {
    const exact = { ...settings, metresPerPixel: { value: 2e-4, standardUncertainty: 0 } };
    const pulsed = { ...exact, exposureSeconds: 8e-6, lightPulseSeconds: 2e-6 };
    const { result } = assembleResult(crossed, pulsed, frames);
    // 100 px * 2e-4 m in one interval of 1e-5 s and the pulse
    expect(relativeDifference(result.lowerBound?.value ?? 0, 0.02 / 1.2e-5)).toBeLessThan(1e-12);
    const measurand = (of: typeof settings) => assembleResult(tracked, of, frames).result.front?.measurand;
    expect(measurand(pulsed)).toBe(`${measurand(exact)}, at the middle of the light pulse`);
  });

  it("keeps what was declared of light and files among what was used, and nothing where nothing was", async () => {
    const declared = { lightPulseSeconds: 2e-6, skipBad: true, transfer: "srgb" } as const;
    const { result } = assembleResult(tracked, { ...settings, ...declared }, frames);
    expect(result.take).toMatchObject(declared);
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
    const bare = Object.keys(assembleResult(tracked, settings, frames).result.take);
    for (const key of Object.keys(declared)) expect(bare).not.toContain(key);
  });

  it("calls a bound without stated uncertainties a reading only", () => {
    const bare = { ...settings, rateHz: { value: 1e5 }, metresPerPixel: { value: 2e-4 } };
    const { result } = assembleResult(crossed, bare, frames);
    expect(result.lowerBound).toMatchObject({ complete: false, missing: ["scale", "rate"] });
    const warning = result.warnings.find(({ code }) => code === "reading-only");
    expect(warning?.message).toContain("so the bound is of the reading only");
  });

  it("keeps the reason for a front that was not found, also among the warnings", () => {
    const { result, track } = assembleResult(notFound, settings, frames);
    expect(result).toMatchObject({ status: "not-found", speed: null, lowerBound: null });
    expect(result).toHaveProperty("notFound", { reason: "no-change", message: "no position changed" });
    expect(result.warnings).toContainEqual({ code: "no-change", message: "no position changed" });
    expect(track).toEqual([]);
  });

  it("warns where another width was averaged than was asked for", () => {
    const codes = (width: number) =>
      assembleResult(tracked, { ...settings, width }, frames).result.warnings.map(({ code }) => code);
    expect(codes(9)).toContain("width-adjusted");
    expect(codes(2)).not.toContain("width-adjusted");
  });

  it.each([
    ["rows", [0, 3], [15, 3], 8, "but the picture has 8 rows across the path"],
    ["columns", [3, 0], [3, 7], 16, "but the picture has 16 columns across the path"],
    [
      "a path near the edge",
      [0, 1],
      [15, 1],
      6,
      "but the band reaches beyond the picture: 6 px were averaged",
    ],
    ["an oblique path", [0, 0], [15, 7], 8, "but the band reaches beyond the picture: 8 px were averaged"],
  ] as const)("says by which side a width is limited: %s", (_what, from, to, width, words) => {
    const outcome = { ...tracked, streak: { ...tracked.streak, path: [from, to] as const, width } };
    const { result } = assembleResult(outcome, { ...settings, width: 99 }, frames);
    const warning = result.warnings.find(({ code }) => code === "width-adjusted");
    expect(warning?.message).toContain(`a width of 99 px was asked for, ${words}`);
  });

  it("gives time as frame over rate and position in metres", () => {
    const { track } = assembleResult(tracked, settings, frames);
    expect(track[2]).toEqual({
      frame: 2,
      timeSeconds: 2e-5,
      positionPixels: 9,
      positionMetres: 9 * 2e-4,
      standardUncertaintyPixels: 0.1,
      residualPixels: 0,
      used: true,
    });
  });

  it("throws rather than let a number that is none into a result", () => {
    const track = { ...tracked.track, tilt: { degrees: Number.NaN, standardUncertaintyDegrees: 1 } };
    expect(() => assembleResult({ ...tracked, track }, settings, frames)).toThrow(
      expect.objectContaining({
        code: "not-finite",
        fields: { key: "result.front.tilt.degrees", value: Number.NaN },
      }),
    );
  });
});
