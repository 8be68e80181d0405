import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { assembleResult } from "../src/result/assemble-result.js";
import { checkResult } from "../src/schemas/check-result.js";
import { frames, relativeDifference, settings, tracked } from "./outcomes.js";
import { range, renderTake, temporaryFolder } from "./render-take.js";

const known = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 2e-4, metresPerPixelUncertainty: 0 };
const root = await temporaryFolder();
// 1e5 frames a second of 0.2 mm pixels: 20 m/s for a pixel a frame
const MPS = 20;

describe("measureTake with a model", () => {
  const slowing = { numbers: range(0, 39), columns: 160, start: 5, pixelsPerFrame: 5, acceleration: -0.06 };

  it("auto finds constant acceleration in a rendered front that slows, and the speed at the middle of what was observed", async () => {
    const take = await renderTake(join(root, "slowing"), slowing);
    const { result, lineInPicture } = await measureTake(take, { ...known, model: "auto" });
    if (result.status !== "measured") throw new Error(JSON.stringify(result));
    const { model, speed, front, warnings } = result;
    expect(model.name).toBe("constant-acceleration");
    const middle = (front.firstFrame + front.lastFrame) / 2;
    const truth = MPS * (5 - 0.06 * middle);
    expect(Math.abs(speed.value - truth)).toBeLessThan(speed.expandedUncertainty);
    expect(speed.expandedUncertainty).toBeLessThan(0.01 * truth);
    const { acceleration } = model.parameters;
    expect(acceleration.unit).toBe("m/s^2");
    expect(Math.abs(acceleration.value + 0.06 * MPS * 1e5)).toBeLessThan(
      3 * acceleration.standardUncertainty,
    );
    expect(model.tried?.find(({ name }) => name === "constant")).toMatchObject({ verdict: "rejected" });
    expect(speed.budget.map(({ source }) => source)).toContain("model choice");
    expect(warnings.filter(({ code }) => code === "speed-not-constant")).toHaveLength(1);
    const at = lineInPicture?.find(({ frame }) => frame === 10);
    expect(Math.abs(at!.positionPixels - (5 + 50 - 3))).toBeLessThan(0.1);
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
  });

  it("without a model the same take has a constant speed with the warning that it is not", async () => {
    const { result } = await measureTake(join(root, "slowing"), known);
    expect(result.model?.name).toBe("constant");
    expect(result.warnings.map(({ code }) => code)).toContain("speed-not-constant");
    expect(result.take).not.toHaveProperty("model");
  });

  it("auto keeps the speed and the fit of a take whose speed is constant, whatever way it runs", async () => {
    for (const [name, start, pixelsPerFrame] of [
      ["right", 5, 3],
      ["left", 120, -3],
    ] as const) {
      const take = await renderTake(join(root, name), {
        numbers: range(0, 35),
        columns: 128,
        start,
        pixelsPerFrame,
      });
      const plain = (await measureTake(take, known)).result;
      const auto = (await measureTake(take, { ...known, model: "auto" })).result;
      expect(auto.model?.name).toBe("constant");
      expect(auto.speed?.value).toBe(plain.speed?.value);
      expect(auto.speed?.budget[0]).toEqual(plain.speed?.budget[0]);
      expect(auto.speed!.standardUncertainty).toBeGreaterThanOrEqual(plain.speed!.standardUncertainty);
      expect(auto.warnings).toEqual(plain.warnings);
    }
  });

  it("a model that too few positions determine is an error that names it", () => {
    expect(() => assembleResult(tracked, { ...settings, model: "two-speeds" }, frames)).toThrow(
      expect.objectContaining({
        code: "model-not-determined",
        fields: { key: "model", value: "two-speeds" },
      }),
    );
  });
});

/** A track whose front was at some place, px, in each of its frames, exactly. */
function trackOf(numbers: readonly number[], positionAt: (frame: number) => number): typeof tracked {
  const { track } = tracked;
  const positions = numbers.map((frame) => ({
    frame,
    positionPixels: positionAt(frame),
    standardUncertaintyPixels: 0.05,
    residualPixels: 0,
    used: true,
  }));
  const [firstFrame, lastFrame] = [numbers[0], numbers[numbers.length - 1]];
  const slopePixelsPerFrame = (positionAt(lastFrame) - positionAt(firstFrame)) / (lastFrame - firstFrame);
  const line = { ...track.line, slopePixelsPerFrame };
  return { ...tracked, track: { ...track, positions, line, firstFrame, lastFrame } };
}

describe("models of shocks", () => {
  const numbers = range(0, 59);
  // 1 px a frame is 20 m/s with the settings of these tests; the shock starts at 60 px a frame and tends to the speed of sound.
  const sound = 343.2 / MPS;
  const kelvin = { value: 343.2 ** 2 / (1.4 * 287.05287), standardUncertainty: 0 };
  const decaying = trackOf(
    numbers,
    (frame) => 4 + sound * frame + (60 - sound) * 12 * Math.log1p(frame / 12),
  );

  it("decaying-shock finds the speed at which it starts, and the speed of sound joins the budget where it is uncertain", () => {
    const of = (standardUncertainty: number | undefined) => {
      const airTemperatureKelvin = {
        value: kelvin.value,
        ...(standardUncertainty !== undefined && { standardUncertainty }),
      };
      const exact = { metresPerPixel: { value: 2e-4, standardUncertainty: 0 }, airTemperatureKelvin };
      const { result } = assembleResult(decaying, { ...settings, ...exact, model: "decaying-shock" }, frames);
      if (result.status !== "measured") throw new Error(JSON.stringify(result));
      return result;
    };
    const { model, speed } = of(0);
    expect(model.name).toBe("decaying-shock");
    expect(relativeDifference(model.parameters.startSpeed.value, 60 * MPS)).toBeLessThan(1e-6);
    expect(relativeDifference(speed.value, MPS * (sound + (60 - sound) / (1 + 29.5 / 12)))).toBeLessThan(
      1e-6,
    );
    const lineIn = ({ speed: { budget } }: ReturnType<typeof of>) =>
      budget.find(({ source }) => source === "speed of sound")?.standardUncertainty;
    expect(lineIn(of(0))).toBe(0);
    expect(lineIn(of(10))).toBeGreaterThan(0.01);
    expect(relativeDifference(lineIn(of(10))!, 2 * lineIn(of(5))!)).toBeLessThan(1e-6);
    expect(lineIn(of(undefined))).toBeUndefined();
    expect(of(undefined).speed.notEvaluated?.map(({ source }) => source)).toContain("speed of sound");
  });

  it("decaying-shock without a temperature is an error that asks for it", async () => {
    await expect(
      measureTake(join(root, "slowing"), { ...known, model: "decaying-shock" }),
    ).rejects.toMatchObject({ code: "air-temperature-missing" });
  });

  it("a power law is of the radius about the origin of a circle, and of a start that is known or found", () => {
    // The ray that was read begins 30 px from the origin.
    const about = trackOf(range(0, 59), (frame) => 12 * (frame + 20) ** 0.4 - 30);
    const path: typeof tracked.streak.path = [
      [30, 0],
      [60, 0],
    ];
    const circle = { ...about, streak: { ...about.streak, path } };
    for (const startTimeSeconds of [null, -20 / settings.rateHz.value]) {
      const { result } = assembleResult(
        circle,
        { ...settings, startTimeSeconds, model: "power-law" },
        frames,
        {
          origin: [0, 0],
        },
      );
      const { exponent, startTime } = result.model!.parameters;
      expect(Math.abs(exponent.value - 0.4)).toBeLessThan(1e-6);
      if (startTimeSeconds === null)
        expect(Math.abs(startTime!.value * settings.rateHz.value + 20)).toBeLessThan(1e-4);
      else expect(startTime).toBeUndefined();
    }
  });

  it("residuals and the course that is drawn are those of the model, not of a straight line", () => {
    const { track, course } = assembleResult(
      decaying,
      { ...settings, airTemperatureKelvin: kelvin, model: "decaying-shock" },
      frames,
    );
    for (const { residualPixels } of track) expect(Math.abs(residualPixels)).toBeLessThan(1e-4);
    for (const { frame, positionPixels } of course!)
      expect(Math.abs(positionPixels - decaying.track.positions[frame].positionPixels)).toBeLessThan(1e-4);
    expect(assembleResult(decaying, settings, frames).course).toBeNull();
  });

  it("the Mach number is that of ISO 2533 at the stated temperature, its uncertainty only where all are stated", async () => {
    const at = { airTemperatureKelvin: 288.15 };
    const take = join(root, "right");
    const { result } = await measureTake(take, { ...known, ...at, airTemperatureUncertaintyKelvin: 2 });
    const { air, speed } = result;
    expect(relativeDifference(air!.soundSpeed, 340.294)).toBeLessThan(1e-6);
    expect(relativeDifference(air!.mach!, speed!.value / 340.294)).toBeLessThan(1e-6);
    const relative = Math.hypot(speed!.standardUncertainty / speed!.value, 2 / 288.15 / 2);
    expect(relativeDifference(air!.machUncertainty!, air!.mach! * relative)).toBeLessThan(1e-9);
    const unstated = (await measureTake(take, { ...known, ...at })).result;
    expect(unstated.air).toMatchObject({
      mach: air!.mach,
      machUncertainty: null,
      soundSpeedUncertainty: null,
    });
    expect(await checkResult(JSON.parse(JSON.stringify(result)))).toEqual(result);
  });
});

describe("the row time", () => {
  const along = (path: typeof tracked.streak.path) => ({ ...tracked, streak: { ...tracked.streak, path } });
  const length = Math.hypot(
    tracked.streak.path[1][0] - tracked.streak.path[0][0],
    tracked.streak.path[1][1] - tracked.streak.path[0][1],
  );
  const slope = tracked.track.line.slopePixelsPerFrame;
  const speedOf = (outcome: typeof tracked, rowTimeSeconds: number | null) => {
    const { result } = assembleResult(outcome, { ...settings, rowTimeSeconds }, frames);
    return result.speed!;
  };

  it("corrects a vertical path by 1/(1 + v ρ) down and 1/(1 − v ρ) up, by the closed form, and its fit by the square", () => {
    const rowTime = 1e-3 / settings.rateHz.value;
    const plain = speedOf(tracked, null);
    for (const [y, sign] of [
      [length, 1],
      [-length, -1],
    ] as const) {
      const timed = speedOf(
        along([
          [0, 0],
          [0, y],
        ]),
        rowTime,
      );
      const stretch = 1 + sign * slope * 1e-3;
      expect(relativeDifference(timed.value, plain.value / stretch)).toBeLessThan(1e-12);
      expect(
        relativeDifference(
          timed.budget[0].standardUncertainty,
          plain.budget[0].standardUncertainty / stretch ** 2,
        ),
      ).toBeLessThan(1e-12);
    }
  });

  it("changes nothing on a path along a row, and is an error where rows are read slower than the front runs", () => {
    const level = along([
      [0, 0],
      [length, 0],
    ]);
    expect(speedOf(level, 1e-3 / settings.rateHz.value)).toEqual(speedOf(level, null));
    const up = along([
      [0, length],
      [0, 0],
    ]);
    expect(() => speedOf(up, 1.1 / (Math.abs(slope) * settings.rateHz.value))).toThrow(
      expect.objectContaining({ code: "invalid-value" }),
    );
  });
});
