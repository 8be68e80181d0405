import type { TakeResult } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import { describeResult } from "../../src/measure/describe-result.js";

/** Written by hand, not measured. */
const measured: Extract<TakeResult, { status: "measured" }> = {
  format: "frontpace-result",
  version: 1,
  program: { name: "frontpace", version: "0" },
  status: "measured",
  speed: {
    value: 1496.237,
    standardUncertainty: 1.7,
    expandedUncertainty: 3.4321,
    coverageFactor: 2.0189,
    coverageProbability: 0.95,
    degreesOfFreedom: 43,
    complete: true,
    missing: [],
    budget: [
      { source: "scale", type: "B", standardUncertainty: 1.5, degreesOfFreedom: null },
      { source: "line", type: "A", standardUncertainty: 0.8, degreesOfFreedom: 40 },
    ],
  },
  lowerBound: null,
  front: {
    measurand: "mid-level",
    firstFrame: 3,
    lastFrame: 45,
    framesUsed: 41,
    direction: [0, -1],
    polarity: "dark",
  },
  model: { name: "constant", parameters: {} },
  take: {
    name: "tile",
    frames: 50,
    firstFrame: -4,
    lastFrame: 47,
    rows: 96,
    columns: 1280,
    bitDepth: 16,
    rateHz: 8e5,
    rateUncertaintyHz: 0,
    exposureSeconds: null,
    metresPerPixel: 2e-4,
    metresPerPixelUncertainty: 1e-6,
    path: [
      [0, 0],
      [0, 95],
    ],
    width: 9,
    polarity: null,
    frameStep: null,
    framesHash: "00",
  },
  notFound: null,
  warnings: [],
};

describe("describeResult", () => {
  it("says what was read, which way the front ran, how fast, why so surely, and where it is written", () => {
    expect(describeResult(measured, ["tile-frontpace/result.json"]).split("\n")).toEqual([
      "read: tile, 50 frames of 1280 x 96 px, 16 bit, numbers -4 to 47 (2 of them absent)",
      "front: dark, ran up (x 0.00, y -1.00), in frames 3 to 45 (41 used)",
      "speed: 1496.2 m/s +- 3.4 m/s (95 % interval 1492.8 to 1499.7 m/s, k = 2.02)",
      "where the uncertainty comes from (share of the variance):",
      "  scale: 78 % (1.5 m/s, type B)",
      "  line: 22 % (0.80 m/s, type A)",
      "",
      "written:",
      "  tile-frontpace/result.json",
      "",
      "Not for legal or safety certification: check the pictures before you rely on the number.",
      "",
    ]);
  });

  it("says where in a long take the frames were found", () => {
    const events = [
      { firstFrame: 700, lastFrame: 745, kind: "stays" as const, strength: 90 },
      { firstFrame: 1700, lastFrame: 1745, kind: "passes" as const, strength: 30 },
    ];
    const search = {
      frames: 60_000,
      framesRead: 812,
      events: events.slice(0, 1),
      shortestFrames: 51,
      passingSought: true,
      weakestSeen: null,
    };
    const lines = (more: object) =>
      describeResult({ ...measured, search: { ...search, ...more } }, []).split("\n");
    expect(lines({}).slice(0, 2)).toEqual([
      "found: frames 700 to 745 of 60000 (stays; 812 read)",
      "read: tile, 50 frames of 1280 x 96 px, 16 bit, numbers -4 to 47 (2 of them absent)",
    ]);
    expect(lines({ events })[0]).toBe(
      "found: frames 700 to 745 of 60000 (stays, the strongest of 2 events; 812 read)",
    );
    for (const reason of ["no-event", "event-too-long"]) {
      const { status: _status, speed: _speed, front: _front, model: _model, ...rest } = measured;
      const notFound = { reason, message: "why" };
      const none = { ...rest, status: "not-found" as const, speed: null, front: null, model: null, notFound };
      expect(
        describeResult({ ...none, search }, [])
          .split("\n")
          .slice(0, 2),
      ).toEqual([
        "searched: tile, 50 frames of 1280 x 96 px, 16 bit, numbers -4 to 47 (2 of them absent); 812 of them read",
        `front: none found (${reason}): why`,
      ]);
    }
  });

  it("says that a cloud was read in the departures of its pixels, and that the speed is that of its envelope", () => {
    const front = { ...measured.front, channel: "departures" as const };
    const text = describeResult({ ...measured, front }, []);
    expect(text).toMatch(/^front: a cloud of bright and dark, ran up /m);
    expect(text).toMatch(/^read in: the departures of single pixels .*the cloud's envelope$/m);
    const plain = describeResult({ ...measured, front: { ...front, channel: "brightness" } }, []);
    expect(plain).toBe(describeResult(measured, []));
  });

  it("gives contributions as plain figures, and calls exact what was stated to be", () => {
    const budgetLine = (source: string, type: "A" | "B", standardUncertainty: number) => ({
      source,
      type,
      standardUncertainty,
      degreesOfFreedom: null,
    });
    const budget = [
      budgetLine("fit", "A", 0.0000123),
      budgetLine("scale", "B", 4512.3),
      budgetLine("rate", "B", 0),
    ];
    const text = describeResult({ ...measured, speed: { ...measured.speed, budget } }, []);
    expect(text).toContain("  fit: under 0.1 % (0.000012 m/s, type A)\n");
    expect(text).toContain("  scale: 100 % (4500 m/s, type B)\n");
    expect(text).toContain("  rate: exact\n");
  });

  it("shows the three largest lines of the budget, and all of it where asked to", () => {
    const budget = ["a", "b", "c", "d", "e"].map((source, k) => ({
      source,
      type: "A" as const,
      standardUncertainty: k + 1,
      degreesOfFreedom: 9,
    }));
    const taken = { ...measured, speed: { ...measured.speed, budget } };
    const shown = (text: string) => [...text.matchAll(/^ {2}([a-e])\b/gm)].map(([, source]) => source);
    expect(shown(describeResult(taken, []))).toEqual(["e", "d", "c"]);
    expect(shown(describeResult(taken, [], { budget: true }))).toEqual(["e", "d", "c", "b", "a"]);
  });

  it("labels an incomplete speed and names what it leaves out", () => {
    const speed = { ...measured.speed, complete: false, missing: ["scale" as const] };
    const text = describeResult({ ...measured, speed }, []);
    expect(text).toContain("speed: 1496.2 m/s +- 3.4 m/s, reading only (95 % interval");
    expect(text).toContain("without the uncertainty of the scale)");
  });

  describe("what a calibration assumes", () => {
    const calibration = {
      method: "lengths" as const,
      planeMap: false,
      lens: false,
      pathMetres: 0.1,
      leastMetresPerPixel: 1e-4,
      greatestMetresPerPixel: 1e-4,
      singleScaleError: 0,
      assumed: ["the lens does not bend", "nothing moved"],
      medium: "air",
    };
    const describeWith = (more: Partial<typeof calibration>) =>
      describeResult(
        { ...measured, take: { ...measured.take, calibration: { ...calibration, ...more } } },
        [],
      );

    it("stands with a bare scale", () => {
      expect(describeWith({})).toContain("assuming that the lens does not bend; that nothing moved");
    });

    it("stands behind the scale along the path of a plane map, wrapped", () => {
      const still = "camera and plane stand in the take as in the still, whose place on the sensor is known";
      const assumed = [...calibration.assumed, still, "the take is binned as the still was"];
      const lines = describeWith({ planeMap: true, singleScaleError: 0.012, assumed }).split("\n");
      const at = lines.findIndex((line) => line.startsWith("scale: 0.2 mm a pixel on average"));
      expect(lines.slice(at + 1, at + 4)).toEqual([
        "  assuming that the lens does not bend; that nothing moved; that camera and plane stand in the take",
        "  as in the still, whose place on the sensor is known; that the take is binned as the still was",
        expect.stringMatching(/^(?! {2}as)/),
      ]);
    });
  });

  it("gives both speeds of a front tilted by more than 5 degrees, and is silent below", () => {
    const tilt = { degrees: 12.34, standardUncertainty: 0.56, normalSpeed: 1461.67 };
    const text = describeResult({ ...measured, front: { ...measured.front, tilt } }, []);
    expect(text).toContain(
      "tilt: 12.34 deg (u = 0.56 deg); along its own normal the front ran at 1461.7 m/s",
    );
    const level = { ...tilt, degrees: -4 };
    expect(describeResult({ ...measured, front: { ...measured.front, tilt: level } }, [])).not.toContain(
      "tilt",
    );
  });

  it("rounds a bound down and says between which frames the front crossed", () => {
    const lowerBound = {
      value: 1239.9,
      confidence: 0.95 as const,
      complete: true,
      missing: [],
      lastFrameBefore: 4,
      firstFrameAfter: 5,
      lengthPixels: 95,
    };
    const nothing = { speed: null, front: null, model: null };
    const text = describeResult({ ...measured, ...nothing, status: "bounded", lowerBound }, []);
    expect(text).toContain("front: ran over 95 px of the path between frames 4 and 5");
    expect(text).toContain("speed: at least 1230 m/s (95 % confidence)\n");
    const reading = { ...lowerBound, complete: false, missing: ["scale" as const, "rate" as const] };
    expect(describeResult({ ...measured, ...nothing, status: "bounded", lowerBound: reading }, [])).toContain(
      "speed: at least 1230 m/s (95 % confidence), reading only, without the uncertainty of the scale and rate\n",
    );
  });

  it("says what was looked for where nothing was found", () => {
    const nothing = { speed: null, front: null, model: null, lowerBound: null };
    const notFound = { reason: "no-change", message: "no position changed" };
    const text = describeResult({ ...measured, ...nothing, status: "not-found", notFound }, []);
    expect(text).toContain("front: none found (no-change): no position changed");
    expect(text).not.toMatch(/\d m\/s/);
  });
});
