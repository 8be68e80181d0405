import { describe, expect, it } from "vitest";
import { type PlanRequest, planModes, type RecordingMode, speedUncertainty } from "../src/index.js";
import { mode } from "./mode.js";

/** An invented camera. */
const modes = [mode(1280, 800, 76e3), mode(1280, 400, 150e3), mode(1280, 96, 500e3), mode(1280, 32, 1e6)];
const request: PlanRequest = { speedMetresPerSecond: { low: 1200, high: 1600 }, lengthMetres: 0.32 };
const close = (a: number, b: number) => expect(Math.abs(a / b - 1)).toBeLessThan(1e-12);
const one = (change: Partial<PlanRequest>, of = modes[2]) =>
  planModes([of], { ...request, ...change }).modes[0];

describe("the figures of a mode", () => {
  it("at 500,000 frames/s 1,600 m/s over 320 mm in 1280 px are 100 frames, 12.8 px and 3.2 mm a frame", () => {
    const planned = one({ exposureFraction: 0.5 });
    close(planned.metresPerPixel, 2.5e-4);
    close(planned.framesAcross, 100);
    close(planned.pixelsPerFrame, 12.8);
    close(planned.stepMetres, 3.2e-3);
    close(planned.exposureSeconds, 1e-6);
    close(planned.blurPixels, 6.4);
    close(planned.blurMetres, 1.6e-3);
    close(planned.eventSeconds, 0.32 / 1200);
    expect(planned).toMatchObject({
      stopsLost: null,
      recordSeconds: null,
      playbackSeconds: null,
      triggerShare: null,
    });
    expect(planned).toMatchObject({
      predictedRelativeUncertainty: null,
      meets: true,
      reasons: [],
      shortfalls: [],
    });
  });

  it("the front may run along the rows, and the optics may stay as they are", () => {
    close(one({ along: "rows" }).metresPerPixel, 0.32 / 96);
    const fixed = one({ metresPerPixel: 5e-4 });
    close(fixed.metresPerPixel, 5e-4);
    close(fixed.pixelsPerFrame, 6.4);
    expect(fixed.meets).toBe(true);
  });

  it("without a limit to the blur the exposure is the whole interval; with one the longest that keeps it", () => {
    close(one({}).exposureSeconds, 2e-6);
    const kept = one({ blurPixels: 2 });
    close(kept.blurPixels, 2);
    close(kept.exposureSeconds, (2 * 2.5e-4) / 1600);
    close(one({ blurPixels: 50 }).exposureSeconds, 2e-6);
  });

  it("light is counted from a good exposure, and refused without one", () => {
    expect(() => one({ relativeLight: 4 })).toThrow(expect.objectContaining({ code: "reference-missing" }));
  });

  it("a quarter of the good exposure loses 2 stops, and 4 times the light give them back", () => {
    const light = { exposureSeconds: 1e-6, goodExposureSeconds: 4e-6 };
    close(one(light).stopsLost!, 2);
    expect(one({ ...light, relativeLight: 4 }).stopsLost).toBe(0);
  });

  it("the step to noise goes with the square root of the exposure under shot noise, with the exposure under reading noise", () => {
    const light = { exposureSeconds: 1e-6, goodExposureSeconds: 4e-6, stepToNoise: 20 };
    close(one(light).stepToNoise!, 10);
    close(one({ ...light, noise: "read" }).stepToNoise!, 5);
    close(one({ ...light, relativeLight: 2 }).stepToNoise!, 20 / Math.SQRT2);
  });

  it("the uncertainty is that of the readings, and what an earlier take knows comes on top as squares", () => {
    const light = {
      exposureSeconds: 1e-6,
      goodExposureSeconds: 1e-6,
      stepToNoise: 20,
      edgeBlurPixels: 1.5,
      widthPixels: 24,
    };
    const noise = speedUncertainty({
      framesAcross: 100,
      pixelsPerFrame: 12.8,
      motionBlurPixels: 6.4,
      edgeBlurPixels: 1.5,
      stepToNoise: 20,
      rowsAveraged: 24,
    })!;
    close(one(light).predictedRelativeUncertainty!, noise);
    const earlier = { name: "t", relativeWander: 0.003, relativeScale: 0.004, relativeRate: null };
    close(one({ ...light, earlier }).predictedRelativeUncertainty!, Math.hypot(noise, 0.005));
    expect(planModes(modes, { ...request, ...light }).predictedFrom).toEqual(["image noise"]);
    expect(planModes(modes, { ...request, ...light, earlier }).predictedFrom).toEqual([
      "image noise",
      "wander",
      "scale",
    ]);
  });

  it("averages no more rows than the picture has", () => {
    const light = { exposureSeconds: 1e-7, goodExposureSeconds: 1e-7, stepToNoise: 20 };
    const wide = one({ ...light, widthPixels: 64 }, modes[3]).predictedRelativeUncertainty!;
    expect(wide).toBe(one({ ...light, widthPixels: 32 }, modes[3]).predictedRelativeUncertainty);
  });

  it("memory, screen and trigger: 2 s are a million frames, 40,000 s at 25 frames/s", () => {
    const planned = one({ memorySeconds: 2, playbackHz: 25, reactionSeconds: 0.5 });
    expect(planned).toMatchObject({ recordSeconds: 2, recordFrames: 1e6, playbackSeconds: 40000 });
    close(planned.eventShare!, 0.32 / 1200 / 2);
    close(planned.eventPlaybackSeconds!, ((0.32 / 1200) * 5e5) / 25);
    expect(planned.triggerShare).toBeGreaterThan(0.5);
    expect(planned.mains.map(({ lampHz }) => lampHz)).toEqual([100, 120]);
    expect(one({ mainsHz: 60 }).mains.map(({ lampHz }) => lampHz)).toEqual([120]);
  });

  it("twice the speed is half the frames; mirrored units change nothing: ten times speed and length, the same frames", () => {
    const double = one({ speedMetresPerSecond: { low: 2400, high: 3200 } });
    close(double.framesAcross, 50);
    close(one({ speedMetresPerSecond: { low: 12000, high: 16000 }, lengthMetres: 3.2 }).framesAcross, 100);
  });
});

describe("ranking", () => {
  it("puts modes that meet the wish first, then those that miss the least, and says why", () => {
    const {
      modes: ranked,
      chosen,
      relax,
    } = planModes(modes, { ...request, framesAcross: 60, goodExposureSeconds: 1e-6, stepToNoise: 10 });
    expect(ranked.map(({ rows, meets }) => [rows, meets])).toEqual([
      [32, true],
      [96, true],
      [400, false],
      [800, false],
    ]);
    expect(chosen).toBe(0);
    expect(relax).toBeNull();
    expect(ranked[2].reasons).toEqual(["the front is in 30 frames, 60 are wanted"]);
  });

  it("the surest mode is best: where light is short and noise of reading rules, not the fastest one", () => {
    const dim = { ...request, goodExposureSeconds: 1e-5, stepToNoise: 5, noise: "read" as const };
    const { modes: ranked } = planModes(modes, dim);
    const uncertainties = ranked.map((planned) => planned.predictedRelativeUncertainty!);
    expect(uncertainties).toEqual(uncertainties.toSorted((a, b) => a - b));
    expect(ranked[0].rows).not.toBe(32);
  });

  it("ranks alike with and without a step to noise, under shot noise", () => {
    const order = (more: Partial<PlanRequest>) =>
      planModes(modes, { ...request, ...more }).modes.map(({ rows }) => rows);
    expect(order({})).toEqual(order({ goodExposureSeconds: 1e-6, stepToNoise: 7 }));
  });

  it("does not change with the order of the list", () => {
    expect(planModes(modes.toReversed(), request)).toEqual(planModes(modes, request));
  });
});

describe("limits", () => {
  it.each<[string, Partial<PlanRequest>, RecordingMode, string, number, number]>([
    ["frames across", { framesAcross: 150 }, modes[2], "framesAcross", 150, 100],
    ["fewer than three frames", {}, mode(1280, 800, 1e4), "framesAcross", 3, 2],
    ["blur", { exposureSeconds: 1e-6, blurPixels: 3.2 }, modes[2], "blurPixels", 3.2, 6.4],
    [
      "an exposure longer than the interval",
      { exposureSeconds: 4e-6 },
      modes[2],
      "exposureSeconds",
      2e-6,
      4e-6,
    ],
    [
      "an exposure shorter than the mode's",
      { exposureSeconds: 5e-8 },
      modes[2],
      "exposureSeconds",
      1e-7,
      5e-8,
    ],
    [
      "light",
      { exposureSeconds: 1e-6, goodExposureSeconds: 8e-6, stopsLost: 2 },
      modes[2],
      "stopsLost",
      2,
      3,
    ],
    ["memory", { memorySeconds: 0.4, reactionSeconds: 0.5 }, modes[2], "memory", 0.5 + 0.32 / 1200, 0.4],
    ["length", { metresPerPixel: 2e-4 }, modes[2], "lengthMetres", 0.256, 0.32],
  ])("%s: what was wanted, what it would have to be", (_, change, of, limit, wanted, needed) => {
    const { shortfalls, meets, reasons } = one(change, of);
    expect(meets).toBe(false);
    expect(shortfalls.map((shortfall) => shortfall.limit)).toEqual([limit]);
    close(shortfalls[0].wanted, wanted);
    close(shortfalls[0].needed, needed);
    expect(reasons).toEqual([shortfalls[0].reason]);
  });

  it("the uncertainty", () => {
    const known = { exposureSeconds: 1e-6, goodExposureSeconds: 1e-6, stepToNoise: 20 };
    const expected = one(known).predictedRelativeUncertainty!;
    expect(one({ ...known, relativeUncertainty: expected * 1.001 }).meets).toBe(true);
    const missed = one({ ...known, relativeUncertainty: expected / 2 });
    expect(missed.shortfalls.map(({ limit }) => limit)).toEqual(["relativeUncertainty"]);
    close(missed.shortfalls[0].factor, 2);
  });

  it("a value exactly at its limit meets it", () => {
    expect(
      one({
        framesAcross: 100,
        exposureSeconds: 1e-6,
        blurPixels: 6.4,
        goodExposureSeconds: 4e-6,
        stopsLost: 2,
      }).meets,
    ).toBe(true);
  });
});

describe("where no mode meets the wish", () => {
  const relax = (change: Partial<PlanRequest>, of: readonly RecordingMode[] = modes) => {
    const plan = planModes(of, { ...request, ...change });
    expect(plan.chosen).toBeNull();
    return plan.relax;
  };

  it.each<[Partial<PlanRequest>, string]>([
    [
      { framesAcross: 400 },
      "1280 x 32 px at 1000000 frames/s comes nearest: want 200 frames across instead of 400",
    ],
    [{ exposureSeconds: 1e-6, blurPixels: 3.2 }, "allow a blur of 6.4 px instead of 3.2 px"],
    [
      { exposureSeconds: 1e-4 },
      "1280 x 800 px at 76000 frames/s comes nearest: expose for 13.15 us instead of 100 us",
    ],
    [
      { exposureSeconds: 1e-6, goodExposureSeconds: 8e-6, stopsLost: 2 },
      "allow a loss of 3 stops instead of 2, or give 2 times the light",
    ],
    [
      { memorySeconds: 0.4, reactionSeconds: 0.5 },
      "have 500.3 ms of memory instead of 400 ms, 1.251 times as much, or react within 399.7 ms",
    ],
    [
      { metresPerPixel: 2e-4 },
      "follow the front over 0.256 m instead of 0.32 m, or show more of it with a scale 1.25 times as coarse",
    ],
    [
      { exposureSeconds: 1e-6, goodExposureSeconds: 1e-6, stepToNoise: 5, relativeUncertainty: 1e-9 },
      "for the uncertainty of the speed instead of 1e-7 %",
    ],
  ])("%j: says which limit to relax and by how much", (change, words) => {
    expect(relax(change)).toContain(words);
  });

  it("memory too short for the reaction: by how much, how much more, and how soon to react", () => {
    const speed = { low: 1000, high: 1000 };
    const request = {
      speedMetresPerSecond: speed,
      lengthMetres: 0.1,
      memorySeconds: 0.2,
      reactionSeconds: 0.5,
    };
    const { modes: planned, relax: advice } = planModes([mode(1280, 96, 5e5)], request);
    expect(planned[0].reasons[0]).toBe(
      "the memory lasts 200 ms, reaction and event take 500.1 ms: 300.1 ms too short",
    );
    expect(advice).toContain("have 500.1 ms of memory instead of 200 ms, 2.501 times as much");
    expect(advice).toContain("or react within 199.9 ms");
  });

  it("memory that holds no frame: how many times as much, by whole frames", () => {
    const request = {
      speedMetresPerSecond: { low: 1000, high: 1000 },
      lengthMetres: 0.1,
      memoryBytes: 100_000,
    };
    const { modes: planned, relax: advice } = planModes([mode(1280, 96, 5e5)], request);
    expect(planned[0].reasons).toEqual([
      "the memory holds less than one frame, reaction and event take 100 us",
    ]);
    // 50 frames of 1280 x 96 samples, 12 bits each: 9.216 MB.
    expect(advice).toContain("have 100 us of memory instead of less than one frame, 92.16 times as much");
    expect(planModes([mode(1280, 96, 5e5)], { ...request, memoryBytes: 9_216_000 }).chosen).toBe(0);
  });

  it("fewer than three frames need a longer way, not a smaller wish", () => {
    expect(relax({}, [mode(1280, 800, 1e4)])).toContain(
      "follow the front over 0.48 m or more, 1.5 times the length",
    );
  });

  it("relaxing as it says makes the mode meet the wish", () => {
    expect(planModes(modes, { ...request, framesAcross: 200 }).chosen).toBe(0);
    expect(planModes(modes, { ...request, exposureSeconds: 1e-6, blurPixels: 6.4 }).chosen).toBe(0);
    expect(planModes([mode(1280, 800, 1e4)], { ...request, lengthMetres: 0.48 }).chosen).toBe(0);
  });

  it("every figure that is named, followed to the letter, is enough", () => {
    // Speeds and lengths whose figures do not end after four digits.
    for (let k = 0; k < 40; k++) {
      const odd = {
        ...request,
        speedMetresPerSecond: { low: 1313 + 7 * k, high: 1313 + 7 * k },
        lengthMetres: 0.3137,
      };
      const figure = (wish: Partial<PlanRequest>, pattern: RegExp) => {
        const { relax, chosen } = planModes(modes, { ...odd, ...wish });
        expect(chosen).toBeNull();
        return Number(pattern.exec(relax!)![1]);
      };
      const followed = (wish: Partial<PlanRequest>) => planModes(modes, { ...odd, ...wish }).chosen;
      const frames = figure({ framesAcross: 999 }, /want ([\d.]+) frames/);
      expect(followed({ framesAcross: frames })).not.toBeNull();
      const sharp = { exposureSeconds: 1e-6, blurPixels: 0.01 };
      const blurPixels = figure(sharp, /a blur of ([\d.]+) px/);
      expect(followed({ ...sharp, blurPixels })).not.toBeNull();
      const exposureSeconds = 1e-6 * figure({ exposureSeconds: 1e-4 }, /expose for ([\d.]+) us/);
      expect(followed({ exposureSeconds })).not.toBeNull();
    }
  });

  it("names every limit that the nearest mode misses", () => {
    expect(relax({ exposureSeconds: 1e-6, blurPixels: 1, framesAcross: 400 })).toMatch(
      /want 200 frames.*, and allow a blur/,
    );
  });
});

describe("bad input", () => {
  it.each<[Partial<PlanRequest>, string, string]>([
    [{ speedMetresPerSecond: { low: 1600, high: 1200 } }, "speed-range-reversed", "got 1600 to 1200 m/s"],
    [
      { speedMetresPerSecond: { low: 0, high: 1200 } },
      "invalid-value",
      "speedMetresPerSecond must be finite and > 0, got 0",
    ],
    [{ lengthMetres: -1 }, "invalid-value", "lengthMetres must be finite and > 0, got -1"],
    [{ blurPixels: Number.NaN }, "invalid-value", "blurPixels must be finite and > 0, got NaN"],
    [{ framesAcross: 2 }, "invalid-value", "framesAcross must be finite and >= 3"],
    [{ widthPixels: 0.5 }, "invalid-value", "widthPixels must be finite and >= 1, got 0.5"],
    [{ reactionSeconds: -1 }, "invalid-value", "reactionSeconds must be finite and >= 0, got -1"],
    [{ stopsLost: -1, goodExposureSeconds: 1 }, "invalid-value", "stopsLost must be finite and >= 0, got -1"],
    [{ exposureFraction: 1.1 }, "invalid-value", "exposureFraction must be at most 1"],
    [
      { exposureFraction: 1, exposureSeconds: 1 },
      "invalid-value",
      "exposureSeconds and exposureFraction exclude each other",
    ],
    [
      { memoryBytes: 1, memorySeconds: 1 },
      "invalid-value",
      "memoryBytes and memorySeconds exclude each other",
    ],
    [{ stepToNoise: 20 }, "reference-missing", "stepToNoise is counted from a good exposure"],
    [{ relativeUncertainty: 0.01 }, "noise-unknown", "give stepToNoise with goodExposureSeconds"],
    [{ reactionSeconds: 0.5 }, "memory-missing", "give memoryBytes or memorySeconds"],
    [{ stopsLost: 2 }, "reference-missing", "stopsLost is counted from a good exposure"],
  ])("%j is named", (change, code, words) => {
    const plan = () => planModes(modes, { ...request, ...change });
    expect(plan).toThrow(expect.objectContaining({ code }));
    expect(plan).toThrow(words);
  });

  it("no mode at all", () => {
    expect(() => planModes([], request)).toThrow(expect.objectContaining({ code: "modes-empty" }));
  });
});
