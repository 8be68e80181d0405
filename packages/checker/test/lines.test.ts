import { describe, expect, it } from "vitest";
import {
  checkClock,
  checkDrift,
  checkExposure,
  checkFocus,
  checkFrames,
  checkLight,
  checkMode,
  checkNoise,
  checkPattern,
  clockedRate,
} from "../src/index.js";

const edge = (blurAlongPixels: number) => ({
  blurAlongPixels,
  standardUncertaintyPixels: 0.02,
  place: [40, 12] as const,
});

describe("checkFocus", () => {
  it("goes by the sharpest edge, and by the blur that the plan allows", () => {
    expect(checkFocus({ edges: [edge(1.2), edge(6)] })).toMatchObject({
      verdict: "pass",
      advice: null,
      values: { blurPixels: 1.2, edges: 2 },
    });
    const soft = checkFocus({ edges: [edge(1.2)], mostBlurPixels: 0.8 });
    expect(soft.verdict).toBe("warn");
    expect(soft.message).toContain("edge blur 1.2 px +- 0.02 px");
    expect(soft.advice).toContain("focus");
  });

  it("says what to film where no edge is there", () => {
    const line = checkFocus({ edges: [] });
    expect(line.verdict).toBe("not-checked");
    expect(line.advice).toContain("slanted");
  });
});

describe("checkExposure", () => {
  it.each<[string, number, number, number | null, string, string]>([
    ["saturates", 255, 0.02, 255, "warn", "2 % of the samples are saturated"],
    ["has a glint or two", 255, 1e-4, 255, "warn", "0 stops of headroom"],
    ["leaves hardly any room", 240, 1e-4, 255, "warn", "0.0875 stops"],
    ["uses a stop less than all", 127.5, 1e-4, 255, "pass", "1 stops of headroom"],
    ["is dim", 10, 1e-4, 255, "warn", "4.67 stops"],
    ["is black", 0, 1, 255, "warn", "all samples are 0"],
    ["is of floating point", 3.5, 1e-4, null, "not-checked", "have no white"],
  ])("a picture that %s", (_, value, share, white, verdict, words) => {
    const line = checkExposure({ brightest: { value, share }, white });
    expect(line.verdict).toBe(verdict);
    expect(line.message).toContain(words);
    expect(line.advice === null).toBe(verdict !== "warn");
  });
});

describe("checkNoise", () => {
  const facts = { width: 16, effectiveRows: 12, white: 255, brightest: 180, isOfStill: false };

  it("lets a step through that is five times the noise of the band", () => {
    const line = checkNoise({ ...facts, noise: { pixel: 4, sample: 1.2 } });
    expect(line).toMatchObject({ verdict: "pass", values: { smallestStep: 6 } });
    expect(line.message).toContain("of 16 rows, worth 12, 1.2");
    expect(checkNoise({ ...facts, noise: { pixel: 20, sample: 5.2 } }).verdict).toBe("warn");
    expect(checkNoise({ ...facts, noise: null }).verdict).toBe("not-checked");
  });
});

describe("checkLight", () => {
  const steady = {
    frames: 200,
    depth: null,
    isShared: true,
    standardUncertainty: 1e-3,
    periodic: null,
    rateHz: null,
  };
  const periodic = { cyclesPerFrame: 0.01, standardUncertainty: 1e-5, depth: 0.2 };

  it("does not call the light of one to three frames steady", () => {
    for (const frames of [1, 2, 3]) expect(checkLight({ ...steady, frames }).verdict).toBe("not-checked");
    expect(checkLight({ ...steady, frames: 4 }).verdict).toBe("pass");
  });

  it("passes steady light, and light that varies by less than a hundredth", () => {
    expect(checkLight(steady)).toMatchObject({ verdict: "pass", values: { depth: 0 } });
    expect(checkLight({ ...steady, depth: 0.008 }).verdict).toBe("pass");
  });

  it("gives period and depth, and knows the mains", () => {
    const line = checkLight({ ...steady, depth: 0.21, periodic, rateHz: 10_000 });
    expect(line).toMatchObject({
      verdict: "warn",
      values: { depth: 0.2, periodFrames: 100, frequencyHz: 100 },
    });
    expect(line.message).toContain("20 % peak to peak, in a period of 100 frames, 100 Hz");
    expect(line.advice).toContain("mains of 50 Hz");
    const ripple = checkLight({ ...steady, depth: 0.21, periodic, rateHz: 30_000 });
    expect(ripple.advice).toContain("pulse-width");
    expect(ripple.values.periodUncertaintyFrames).toBeCloseTo(0.1, 12);
  });

  it("tells a drift, and something that moves, from flicker", () => {
    expect(checkLight({ ...steady, depth: 0.1 }).message).toContain("not in a period that shows");
    const line = checkLight({ ...steady, depth: 0.1, isShared: false });
    expect(line.advice).toContain("in which nothing runs");
  });
});

describe("checkFrames", () => {
  const numbers = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];

  it.each<[string, Parameters<typeof checkFrames>[0], string, string]>([
    ["steady ones", { timing: { seen: "steady" }, numbers }, "pass", "none is repeated"],
    [
      "a gap",
      { timing: { seen: "steady" }, numbers: numbers.filter((n) => n !== 4) },
      "warn",
      "1 of 10 numbers are missing",
    ],
    ["every second one", { timing: { seen: "steady" }, numbers: [0, 2, 4, 6] }, "pass", "4 frames"],
    [
      "copies",
      { timing: { seen: "copies", frames: [3] }, numbers },
      "warn",
      "frame 3 repeats the frame before",
    ],
    [
      "many copies",
      { timing: { seen: "copies", frames: [1, 2, 3, 4, 5, 6, 7] }, numbers },
      "warn",
      "frames 1, 2, 3, 4, 5, 6 and 1 more repeat",
    ],
    [
      "a conversion",
      { timing: { seen: "conversion", message: "one of every 5 frames is a copy" }, numbers },
      "warn",
      "not the frames that the camera recorded",
    ],
    ["too little noise", { timing: { seen: "nothing" }, numbers }, "not-checked", "too low"],
    ["one alone", { timing: { seen: "nothing" }, numbers: [0] }, "not-checked", "one frame does not tell"],
  ])("%s", (_, facts, verdict, words) => {
    const line = checkFrames(facts);
    expect(line.verdict).toBe(verdict);
    expect(line.message).toContain(words);
    expect(line.advice === null).toBe(verdict !== "warn");
  });
});

describe("checkPattern", () => {
  it("names blocks, mosaics and noise that is alike, and what to export", () => {
    const clear = { pattern: { blocks: null, mosaic: false }, width: 20, effectiveRows: 19 };
    expect(checkPattern(clear)).toMatchObject({ verdict: "pass", advice: null });
    expect(checkPattern({ ...clear, pattern: { blocks: 0.4, mosaic: false } }).message).toContain(
      "40 % more",
    );
    expect(checkPattern({ ...clear, pattern: { blocks: null, mosaic: true } }).advice).toContain(
      "monochrome",
    );
    expect(checkPattern({ ...clear, effectiveRows: 6 }).message).toContain("20 rows are worth 6");
  });
});

describe("checkDrift", () => {
  const shift = (extentPixels: number, moves: boolean) => ({
    extentPixels,
    moves,
    standardUncertaintyPixels: 0.02,
  });

  it("names how far the picture moves, and where", () => {
    expect(checkDrift({ frames: 60, along: shift(0.1, false), across: null }).verdict).toBe("pass");
    const line = checkDrift({ frames: 60, along: shift(0.4, true), across: shift(1.2, true) });
    expect(line.verdict).toBe("warn");
    expect(line.message).toContain("0.4 px along the path and 1.2 px across the path");
    expect(checkDrift({ frames: 60, along: shift(0.03, true), across: null }).verdict).toBe("pass");
    expect(checkDrift({ frames: 60, along: null, across: null }).verdict).toBe("not-checked");
    expect(checkDrift({ frames: 1, along: null, across: null }).message).toContain("one still");
  });
});

describe("checkDrift of one edge", () => {
  const edge = (extentPixels: number, moves: boolean) => ({
    extentPixels,
    moves,
    standardUncertaintyPixels: 0.02,
    place: [52, 16] as const,
  });
  const of = (acrossEdge: ReturnType<typeof edge>) =>
    checkDrift({ frames: 60, along: null, across: null, acrossEdge });

  it("names the move across it, and says that the move along it is not seen", () => {
    expect(of(edge(0.4, true))).toMatchObject({
      verdict: "warn",
      message:
        "the picture moves by 0.4 px across the edge at 52,16, peak to peak; along that edge it is not seen (texture, or an edge in another direction, would show it)",
      values: { alongPixels: null, acrossEdgePixels: 0.4 },
    });
    const still = of(edge(0.1, false));
    expect(still.verdict).toBe("pass");
    expect(still.message).toBe(
      "the picture stands still across the edge at 52,16, to 0.02 px (k = 1) in each frame; along that edge it is not seen (texture, or an edge in another direction, would show it)",
    );
    expect(still.advice).toBeNull();
  });

  it("does not call a move unseen that texture shows across the path", () => {
    const across = { extentPixels: 0.5, moves: true, standardUncertaintyPixels: 0.02 };
    expect(checkDrift({ frames: 60, along: null, across, acrossEdge: edge(0.4, true) }).message).toBe(
      "the picture moves by 0.4 px across the edge at 52,16 and 0.5 px across the path, peak to peak",
    );
  });
});

describe("checkMode", () => {
  const setting = (quantity: string, planned: number, observed: number | null) => ({
    quantity,
    planned,
    observed,
    agrees: observed === planned,
  });

  it("names what was set otherwise than planned, and what the take does not say", () => {
    expect(checkMode({ settings: [setting("rows", 96, 96), setting("rateHz", 5e5, 5e5)] })).toMatchObject({
      verdict: "pass",
      message: "as planned: rows 96 px, rate 500000 frames/s",
    });
    const line = checkMode({ settings: [setting("rows", 96, 128), setting("exposureSeconds", 1e-6, null)] });
    expect(line.verdict).toBe("warn");
    expect(line.message).toContain("rows 128 px, planned 96 px; not stated in the take: exposure");
    expect(line.advice).toContain("set rows 96 px");
    expect(checkMode({ settings: [setting("rateHz", 5e5, null)] }).advice).toContain("--rate");
  });
});

describe("clockedRate", () => {
  const facts = {
    lampHz: 1000,
    lampUncertaintyHz: 0.3,
    nominalRateHz: 1e5,
    frames: 400,
    seen: { cyclesPerFrame: 0.01, standardUncertainty: 4e-6, degreesOfFreedom: 390, harmonics: 1 },
  };

  it("adds the relative variances of the reading and of the lamp", () => {
    const rate = clockedRate(facts)!;
    // 4e-4 of the reading and 3e-4 of the lamp make 5e-4.
    expect(rate.rateHz).toBeCloseTo(1e5, 6);
    expect(Math.abs(rate.rateUncertaintyHz! / 50 - 1)).toBeLessThan(1e-12);
    expect(Math.abs(rate.readingUncertaintyHz / 40 - 1)).toBeLessThan(1e-12);
    expect(checkClock(facts).verdict).toBe("pass");
  });

  it("knows a switched lamp that keeps step with the frames to an interval only", () => {
    const switched = {
      ...facts,
      lampUncertaintyHz: 0,
      seen: { ...facts.seen, cyclesPerFrame: 0.2504, harmonics: 6 },
    };
    // Uniform over a quarter of a cycle to either side in 400 frames, and 4e-6 of the fit.
    const relative = Math.hypot(0.25 / (400 * Math.sqrt(3)), 4e-6) / 0.2504;
    const rate = clockedRate(switched)!;
    expect(Math.abs(rate.rateUncertaintyHz! / rate.rateHz / relative - 1)).toBeLessThan(1e-12);
    expect(checkClock(switched).advice).toContain("keeps step");
    // Four moments of the wave do not tell a switched one from a smooth one.
    const four = clockedRate({ ...switched, seen: { ...switched.seen, harmonics: 1 } })!;
    expect(four.rateUncertaintyHz).toBe(rate.rateUncertaintyHz);
    const smooth = { ...switched.seen, cyclesPerFrame: 0.2371, harmonics: 2 };
    const apart = clockedRate({ ...switched, seen: smooth })!;
    expect(Math.abs(apart.rateUncertaintyHz! / apart.rateHz / (4e-6 / 0.2371) - 1)).toBeLessThan(1e-12);
  });

  it("lets the edges of a switched lamp lie anywhere between two moments seen, those of an exposure left out", () => {
    // 1/18 and 1e-4 of a cycle in a frame: eighteen moments, 1/18 of a cycle apart, that drift by 0.72 of a gap.
    const seen = { ...facts.seen, cyclesPerFrame: 1 / 18 + 1e-4, harmonics: 7 };
    const switched = { ...facts, lampUncertaintyHz: 0, seen };
    const expectUnseen = (exposureSeconds: number, cycles: number) => {
      const rate = clockedRate({ ...switched, exposureSeconds })!;
      const relative = Math.hypot(cycles / (400 * Math.sqrt(3)), 4e-6) / seen.cyclesPerFrame;
      expect(Math.abs(rate.rateUncertaintyHz! / rate.rateHz / relative - 1)).toBeLessThan(1e-12);
    };
    expectUnseen(0, 1 / 18);
    expectUnseen(0.02 / facts.lampHz, 1 / 18 - 0.02);
    expectUnseen(0.1 / facts.lampHz, 0);
    expect(checkClock(switched).advice ?? "").not.toContain("keeps step");
  });

  it("is another rate than the stated one beyond three standard uncertainties, unsure without that of the lamp, and none without a lamp", () => {
    expect(checkClock({ ...facts, nominalRateHz: 100_200 }).advice).toContain("measure with this rate");
    const unsure = { ...facts, lampUncertaintyHz: null };
    expect(clockedRate(unsure)!.rateUncertaintyHz).toBeNull();
    expect(checkClock(unsure)).toMatchObject({ verdict: "warn", values: { rateUncertaintyHz: null } });
    expect(clockedRate({ ...facts, seen: null })).toBeNull();
    expect(checkClock({ ...facts, seen: null }).message).toContain(
      "nothing in 400 frames repeats at 1000 Hz",
    );
  });
});
