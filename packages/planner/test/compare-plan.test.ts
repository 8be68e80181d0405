import { describe, expect, it } from "vitest";
import { comparePlan, type ObservedTake, type PlanCompared } from "../src/index.js";

/** Invented: 1200 to 1500 m/s over 0.3 m in 1000 px, at 500,000 frames/s 100 frames across at 10 px a frame. */
const plan: PlanCompared = {
  take: "tile",
  request: { speedMetresPerSecond: { low: 1200, high: 1500 }, lengthMetres: 0.3 },
  mode: {
    columns: 1000,
    rows: 96,
    rateHz: 5e5,
    metresPerPixel: 3e-4,
    framesAcross: 100,
    pixelsPerFrame: 10,
    blurPixels: 5,
    exposureSeconds: 1e-6,
    stepToNoise: 20,
    predictedRelativeUncertainty: 1e-4,
  },
  predictedFrom: ["image noise"],
};
type Measured = Extract<ObservedTake["outcome"], { status: "measured" }>;
const outcome: Measured = {
  status: "measured",
  speed: 1400,
  expandedUncertainty: 10,
  relativeUncertainties: [
    { source: "fit", relative: 8e-5 },
    { source: "wander", relative: 6e-5 },
    { source: "scale", relative: 3e-3 },
  ],
  framesUsed: 110,
  pathPixels: 999,
  stepToNoise: 20,
};
const take: ObservedTake = {
  name: "tile",
  columns: 1000,
  rows: 96,
  rateHz: 5e5,
  metresPerPixel: 3e-4,
  exposureSeconds: 1e-6,
  outcome,
};
const compare = (
  seen: Partial<Measured>,
  of: Partial<ObservedTake> = {},
  planned: Partial<PlanCompared> = {},
) => comparePlan({ ...plan, ...planned }, { ...take, outcome: { ...outcome, ...seen }, ...of });
const lineOf = (comparison: ReturnType<typeof comparePlan>, quantity: string) =>
  comparison.quantities.find((line) => line.quantity === quantity)!;
const close = (a: number, b: number) => expect(Math.abs(a / b - 1)).toBeLessThan(1e-12);

describe("a take that went as planned", () => {
  const comparison = compare({});

  it("holds in every quantity", () => {
    expect(comparison.held).toBe(true);
    expect(comparison.lowestRateHz).toBeNull();
    for (const line of comparison.quantities)
      expect(line).toMatchObject({ verdict: "held", holds: true, next: null, reason: "as planned" });
    expect(comparison.quantities.map(({ quantity }) => quantity)).toEqual([
      "columns",
      "rows",
      "rateHz",
      "exposureSeconds",
      "metresPerPixel",
      "speed",
      "framesAcross",
      "pixelsPerFrame",
      "blurPixels",
      "stepToNoise",
      "relativeUncertainty",
    ]);
  });

  it("planned figures span the range of speeds: frames fall with it, way and blur grow", () => {
    const planned = (quantity: string) => lineOf(comparison, quantity).planned!;
    close(planned("framesAcross").low, 100);
    close(planned("framesAcross").high, 125);
    close(planned("pixelsPerFrame").low, 8);
    close(planned("pixelsPerFrame").high, 10);
    close(planned("blurPixels").low, 4);
    close(lineOf(comparison, "pixelsPerFrame").observed!, 1400 / (5e5 * 3e-4));
    close(lineOf(comparison, "blurPixels").observed!, (1400 * 1e-6) / 3e-4);
  });

  it("the uncertainty is held by what the prediction holds: image noise is fit and wander, the scale is left out", () => {
    close(lineOf(comparison, "relativeUncertainty").observed!, 1e-4);
    expect(lineOf(comparison, "relativeUncertainty").label).toBe("image noise only");
    const more = compare({}, {}, { predictedFrom: ["image noise", "scale"] });
    close(lineOf(more, "relativeUncertainty").observed!, Math.hypot(1e-4, 3e-3));
    expect(lineOf(more, "relativeUncertainty")).toMatchObject({ verdict: "exceeded", holds: false });
    expect(lineOf(more, "relativeUncertainty").reason).toContain("most of it is scale");
    expect(lineOf(more, "relativeUncertainty").label).toBe("image noise, scale");
    expect(comparison.quantities.filter(({ label }) => label !== undefined)).toHaveLength(1);
  });
});

describe("the speed", () => {
  it.each([
    [1505, 10, "held", false],
    [1511, 10, "exceeded", true],
    [1195, 10, "held", false],
    [1189, 10, "fell-short", true],
    [1500, 10, "held", false],
  ])(
    "%i m/s +- %i m/s against 1200 to 1500: %s",
    (speed, expandedUncertainty, verdict, beyondUncertainty) => {
      const line = lineOf(compare({ speed, expandedUncertainty }), "speed");
      expect(line).toMatchObject({ verdict, beyondUncertainty, holds: verdict === "held" });
      if (verdict !== "held") expect(line.next).toBe(`plan with ${speed} m/s`);
    },
  );

  it("outside but within its uncertainty is held, and says so", () => {
    expect(lineOf(compare({ speed: 1505 }), "speed").reason).toContain(
      "no further than the uncertainty allows",
    );
  });
});

describe("a speed expected from the physics table", () => {
  const material = (...sources: string[]) => ({ material: { name: "soda-lime-glass", sources } });
  const [read, memory] = ["A (read at the source)", "B (from memory, not verified)"];
  const reasonOf = (planned: Partial<PlanCompared>) =>
    lineOf(compare({ speed: 3000 }, {}, planned), "speed").reason;

  it("drives no verdict without saying how many of its sources were read", () => {
    expect(reasonOf(material(read, memory, memory))).toContain(
      "another speed than expected; it is expected from published speeds of cracks in soda-lime-glass, 2 of 3 not read at the source",
    );
    expect(reasonOf(material(read))).toContain("soda-lime-glass, all read at the source");
    expect(reasonOf({})).not.toContain("published");
    const bounded = { status: "bounded", lowerBound: 4000, frames: 1, crossedPixels: 1000 } as const;
    const line = lineOf(
      comparePlan({ ...plan, ...material(memory) }, { ...take, outcome: bounded }),
      "speed",
    );
    expect(line.reason).toContain("1 of 1 not read at the source");
  });
});

describe("what differs to the take's disadvantage breaks the plan, what differs to its advantage does not", () => {
  it.each<[string, Partial<Measured>, Partial<ObservedTake>, string, string, boolean]>([
    ["fewer frames", { framesUsed: 98 }, {}, "framesAcross", "fell-short", false],
    ["more frames", { framesUsed: 127 }, {}, "framesAcross", "exceeded", true],
    ["more blur", {}, { exposureSeconds: 2e-6 }, "blurPixels", "exceeded", false],
    ["less blur", {}, { exposureSeconds: 5e-7 }, "blurPixels", "fell-short", true],
    ["less step to noise", { stepToNoise: 15 }, {}, "stepToNoise", "fell-short", false],
    ["more step to noise", { stepToNoise: 27 }, {}, "stepToNoise", "exceeded", true],
    ["a lower rate", {}, { rateHz: 4e5 }, "rateHz", "fell-short", false],
    ["a higher rate", {}, { rateHz: 6e5 }, "rateHz", "exceeded", true],
    ["a longer exposure", {}, { exposureSeconds: 1.02e-6 }, "exposureSeconds", "exceeded", false],
    ["a shorter exposure", {}, { exposureSeconds: 9e-7 }, "exposureSeconds", "fell-short", true],
    ["shorter pixels", {}, { metresPerPixel: 2.9e-4 }, "metresPerPixel", "fell-short", false],
    ["longer pixels", {}, { metresPerPixel: 3.1e-4 }, "metresPerPixel", "exceeded", true],
    ["a cropped picture", {}, { rows: 64 }, "rows", "fell-short", true],
    ["a longer way a frame", {}, { rateHz: 4e5 }, "pixelsPerFrame", "exceeded", false],
  ])("%s", (_, seen, of, quantity, verdict, holds) => {
    const comparison = compare(seen, of);
    expect(lineOf(comparison, quantity)).toMatchObject({ verdict, holds });
    expect(comparison.held).toBe(comparison.quantities.every((line) => line.holds));
    expect(lineOf(comparison, quantity).next === null).toBe(holds || quantity === "pixelsPerFrame");
  });

  it("one frame less is the moment at which the front enters, no shortfall", () => {
    expect(lineOf(compare({ framesUsed: 99 }), "framesAcross").verdict).toBe("held");
  });

  it("an uncertainty larger than predicted names its largest part", () => {
    const relativeUncertainties = [
      { source: "fit", relative: 1e-4 },
      { source: "wander", relative: 9e-4 },
    ];
    const line = lineOf(compare({ relativeUncertainties }), "relativeUncertainty");
    expect(line).toMatchObject({ verdict: "exceeded", holds: false });
    expect(line.reason).toContain(
      "most of it is wander, the front's own uneven way, which the plan does not hold",
    );
  });
});

describe("what to set for the next take", () => {
  it("a fast front needs the rate that keeps the planned frames, and the exposure that keeps the planned blur", () => {
    const fast = compare({ speed: 3000, framesUsed: 50 });
    expect(lineOf(fast, "framesAcross").next).toBe("record 1000000 frames/s for 100 frames over 300 mm");
    expect(lineOf(fast, "blurPixels").next).toBe("expose for 500 ns at most");
    expect(lineOf(fast, "framesAcross").reason).toContain("the front was faster");
  });

  it("a limit that was asked for counts, not what was planned beneath it", () => {
    const request = { ...plan.request, blurPixels: 6 };
    const fast = compare({ speed: 3000 }, {}, { request });
    expect(lineOf(fast, "blurPixels").next).toBe("expose for 600 ns at most");
  });

  it("half the step to noise needs four times the light", () => {
    expect(lineOf(compare({ stepToNoise: 10 }), "stepToNoise").next).toBe(
      "give 4 times the light, for step to noise grows with its square root, or plan with a step to noise of 10",
    );
  });

  it("a blur within the limit that was asked for breaks no plan, though more than planned", () => {
    const request = { ...plan.request, blurPixels: 20 };
    const line = lineOf(compare({ speed: 3000 }, {}, { request }), "blurPixels");
    expect(line).toMatchObject({ verdict: "exceeded", holds: true, next: null });
    expect(line.reason).toContain(
      "the limit of 20 px that was asked for is kept; by itself that does no harm",
    );
  });

  it("a picture that shows too little of the way is to show more, where no path could be laid over all of it", () => {
    const seen = compare({ framesUsed: 60, pathPixels: 500 }, { columns: 512, rows: 96 });
    expect(lineOf(seen, "framesAcross").next).toMatch(
      /^show 300 mm of the way, of which the picture has 156\.\d mm: set /,
    );
  });

  it.each<[string, string]>([
    ["wander", "longer path"],
    ["scale", "frontpace calibrate"],
    ["rate", "--clock"],
  ])("an uncertainty by %s is met by what makes that smaller", (source, words) => {
    const line = lineOf(
      compare(
        { relativeUncertainties: [{ source, relative: 9e-3 }] },
        {},
        { predictedFrom: ["image noise", source] },
      ),
      "relativeUncertainty",
    );
    expect(line.next).toContain(words);
  });

  it("what differs to the take's advantage is said to do no harm", () => {
    expect(lineOf(compare({ stepToNoise: 27 }), "stepToNoise").reason).toMatch(/that does no harm$/);
  });

  it.each<[string, Partial<Measured>, Partial<ObservedTake>, string]>([
    ["a lower rate", { framesUsed: 60 }, { rateHz: 3e5 }, "the rate was lower"],
    ["a shorter path", { framesUsed: 60, pathPixels: 500 }, {}, "the path followed is 150 mm of 300 mm"],
    ["nothing of that", { framesUsed: 60 }, {}, "frames are missing or were rejected"],
  ])("frames are fewer for %s", (_, seen, of, words) => {
    expect(lineOf(compare(seen, of), "framesAcross").reason).toContain(words);
  });
});

describe("what is not known", () => {
  it("is said, and breaks no plan", () => {
    const comparison = compare(
      { stepToNoise: null },
      { exposureSeconds: null },
      { mode: { ...plan.mode, predictedRelativeUncertainty: null } },
    );
    expect(comparison.held).toBe(true);
    for (const quantity of ["exposureSeconds", "blurPixels", "stepToNoise", "relativeUncertainty"])
      expect(lineOf(comparison, quantity)).toMatchObject({ verdict: "not-known", beyondUncertainty: null });
    expect(lineOf(comparison, "blurPixels").reason).toContain("give --exposure to measure");
    expect(lineOf(comparison, "relativeUncertainty").reason).toBe("the plan does not say");
    expect(lineOf(comparison, "stepToNoise").reason).toBe("the take does not say");
  });
});

describe("fewer frames than planned", () => {
  const fewer = (seen: Partial<Measured>, of: Partial<ObservedTake> = {}) =>
    lineOf(compare({ framesUsed: 60, ...seen }, of), "framesAcross");

  it("come of a faster front only where its speed is beyond that planned by more than its uncertainty", () => {
    expect(fewer({ speed: 1505, expandedUncertainty: 10 }).reason).not.toContain("the front was faster");
    expect(fewer({ speed: 1515, expandedUncertainty: 10 }).reason).toContain("the front was faster");
  });

  it("ask for another rate only where the one used is too low for them", () => {
    // 100 frames over 0.3 m at 1500 m/s take 500,000 frames/s.
    expect(fewer({ speed: 1500 }).next).not.toContain("frames/s");
    expect(fewer({ speed: 1500 }).next).toContain("path");
    expect(fewer({ speed: 1500 }, { rateHz: 4e5 }).next).toContain("record 500000 frames/s");
    expect(fewer({ speed: 1700 }).next).toMatch(/record 566\d{3} frames\/s/);
  });
});

describe("a front that was only bounded", () => {
  const bounded = (lowerBound: number, frames = 1) =>
    comparePlan(plan, {
      ...take,
      rateHz: 13_000,
      outcome: { status: "bounded", lowerBound, frames, crossedPixels: 1000 },
    });

  it("breaks the plan, and gives the lowest rate that would measure it: three frames over the path at the bound", () => {
    const comparison = bounded(4000);
    expect(comparison.held).toBe(false);
    close(comparison.lowestRateHz!, (3 * 4000) / 0.3);
    expect(lineOf(comparison, "framesAcross")).toMatchObject({
      verdict: "fell-short",
      holds: false,
      observed: 1,
    });
    expect(lineOf(comparison, "framesAcross").next).toContain("record 40000 frames/s or more");
  });

  it.each([
    // At 780 m/s there were five frames over 0.3 m: six take 15,600 frames/s.
    [780, 5, 6, 15_600],
    [650, 5, 7, 15_167],
    [1950, 1, 3, 19_500],
  ])(
    "gives a rate above the one that did not measure a bound of %i m/s",
    (lowerBound, frames, wanted, rate) => {
      const comparison = bounded(lowerBound, frames);
      expect(Math.abs(comparison.lowestRateHz! - rate)).toBeLessThan(0.5);
      expect(comparison.lowestRateHz!).toBeGreaterThan(13_000);
      expect(lineOf(comparison, "framesAcross").next).toContain(`frames/s or more: then ${wanted} frames`);
    },
  );

  it("contradicts the expected speed only above it", () => {
    expect(lineOf(bounded(4000), "speed")).toMatchObject({
      verdict: "exceeded",
      holds: false,
      observed: 4000,
    });
    expect(lineOf(bounded(1300), "speed")).toMatchObject({ verdict: "not-known", observed: null });
    expect(lineOf(bounded(1300), "speed").reason).toContain("at least 1300 m/s");
  });
});

describe("a front that was not found", () => {
  it("breaks the plan and says why it was not", () => {
    const comparison = comparePlan(plan, {
      ...take,
      outcome: { status: "not-found", message: "nothing changed" },
    });
    expect(comparison.held).toBe(false);
    expect(lineOf(comparison, "speed")).toMatchObject({
      verdict: "not-known",
      reason: "nothing changed",
      holds: false,
      next: expect.stringContaining("more light"),
    });
  });
});

describe("a plan and a result of different takes", () => {
  it("are named", () => {
    expect(() => compare({}, { name: "tile-08" })).toThrow(
      expect.objectContaining({
        code: "different-takes",
        message: expect.stringMatching(/for the take tile, and this one is tile-08/),
      }),
    );
  });

  it("a plan that names no take is for any", () => {
    expect(compare({}, { name: "tile-08" }, { take: null }).held).toBe(true);
  });
});
