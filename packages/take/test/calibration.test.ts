import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { type CalibrateOptions, calibrateStills } from "../src/calibrating/calibrate-stills.js";
import { checkScale, readScale } from "../src/files/read-scale.js";
import { calibratedPath } from "../src/path/calibrated-path.js";
import { calibrationOf } from "../src/settings/calibration-of.js";
import { checkCalibration } from "../src/settings/check-calibration.js";
import { settle } from "../src/settings/settle.js";
import type { ScaleFile, TakeFile } from "../src/types.js";
import { temporaryFolder } from "./render-take.js";

const root = await temporaryFolder();
const relative = (value: number, expected: number) => Math.abs(value / expected - 1);

async function plainStill(name: string, columns = 200, rows = 100): Promise<string> {
  const file = join(root, name);
  const data = new Uint8Array(columns * rows).fill(90);
  await sharp(data, { raw: { width: columns, height: rows, channels: 1 } })
    .toColourspace("b-w")
    .png()
    .toFile(file);
  return file;
}

const still = await plainStill("still.png");
const ruler: CalibrateOptions["standard"] = {
  kind: "lengths",
  lengths: [
    {
      length: { value: 0.03, standardUncertainty: 3e-5 },
      between: [
        [20, 50],
        [170, 50],
      ],
    },
  ],
};
/** 0.2 mm a pixel, square on. */
const points: CalibrateOptions["standard"] = {
  kind: "points",
  relativeStandardUncertainty: 1e-3,
  points: [
    [10, 10],
    [190, 10],
    [190, 90],
    [10, 90],
  ].map(([x, y]) => ({
    pixel: [x, y],
    plane: [2e-4 * x, 2e-4 * y],
  })),
};

const scaleOf = async (options: Partial<CalibrateOptions> & Pick<CalibrateOptions, "standard">) =>
  (await calibrateStills([still], options)).scale;

describe("calibrateStills", () => {
  it("gives a scale.json that its own check takes, byte for byte", async () => {
    const scale = await scaleOf({ standard: ruler, pointingPixels: 0.3 });
    expect(await checkScale(JSON.parse(JSON.stringify(scale)))).toEqual(scale);
    expect(JSON.stringify(await scaleOf({ standard: ruler, pointingPixels: 0.3 }))).toBe(
      JSON.stringify(scale),
    );
    expect(relative(scale.metresPerPixel, 2e-4)).toBeLessThan(1e-12);
    const expected = 2e-4 * Math.hypot(1e-3, (Math.SQRT2 * 0.3) / 150);
    expect(relative(scale.metresPerPixelUncertainty!, expected)).toBeLessThan(1e-9);
    expect(scale).toMatchObject({ columns: 200, rows: 100, sensorOffset: [0, 0], binning: 1, medium: "air" });
    expect(scale.madeFrom).toMatchObject({ method: "lengths", stills: ["still.png"] });
    expect(scale.warnings).toEqual([]);
  });

  it("says that pointing was assumed, and that lengths disagree", async () => {
    const upright = {
      length: { value: 0.02, standardUncertainty: 0 },
      between: [
        [20, 10],
        [20, 90],
      ],
    } as const;
    const scale = await scaleOf({ standard: { kind: "lengths", lengths: [...ruler.lengths, upright] } });
    expect(scale.warnings.map(({ code }) => code)).toEqual(["lengths-disagree", "pointing-assumed"]);
    expect(scale.warnings[0].message).toMatch(
      /length 1: 0\.20000 mm \+- 0\.0\d+ mm a pixel; length 2: 0\.25\d* mm/,
    );
  });

  it("names the length that stands away from the others, of three or more", async () => {
    const other = (row: number, metres: number) => ({
      length: { value: metres, standardUncertainty: 0 },
      between: [
        [20, row],
        [170, row],
      ] as const,
    });
    const lengths = [other(20, 0.03), other(40, 0.027), other(60, 0.03)];
    const { warnings } = await scaleOf({ standard: { kind: "lengths", lengths } });
    expect(warnings[0].message).toContain("one of them wrong (length 2 is 10 % below the middle one)?");
  });

  it("says that the linear propagation fails where points lie too close", async () => {
    const close = {
      length: { value: 0.001, standardUncertainty: 0 },
      between: [
        [20, 10],
        [25, 10],
      ],
    } as const;
    const scale = await scaleOf({ standard: { kind: "lengths", lengths: [close] }, pointingPixels: 0.6 });
    expect(scale.warnings.map(({ code }) => code)).toEqual(["linear-propagation-fails"]);
    expect(scale.madeFrom.monteCarlo.agrees).toBe(false);
  });

  it("gives a plane map of points marked by hand, good to the uncertainty of pointing", async () => {
    const scale = await scaleOf({ standard: points, pointingPixels: 0.2 });
    expect(scale.planeMap).toBeDefined();
    expect(relative(scale.metresPerPixel, 2e-4)).toBeLessThan(1e-9);
    expect(scale.madeFrom.middlePixels).toEqual([100, 50]);
  });

  it("has no uncertainty where that of the standard was not stated", async () => {
    const { relativeStandardUncertainty: _, ...unstated } = points;
    const scale = await scaleOf({ standard: unstated, pointingPixels: 0.2 });
    expect(scale.metresPerPixelUncertainty).toBeNull();
    expect(scale.missing).toEqual(["length standard"]);
  });

  it.each<[string, readonly string[], CalibrateOptions, string]>([
    ["no still", [], { standard: ruler }, "at least one still"],
    ["points in two stills", [still, still], { standard: ruler }, "marked in one still, got 2"],
    ["a lens from two points", [still], { standard: ruler, lens: true }, "two points do not tell the lens"],
    [
      "a lens from a part of the sensor",
      [still],
      { standard: points, lens: true, sensorOffset: [0, 300] },
      "state the size of the sensor",
    ],
  ])("refuses %s", async (_, files, options, words) => {
    await expect(calibrateStills(files, options)).rejects.toMatchObject({
      code: "invalid-value",
      message: expect.stringContaining(words),
    });
  });

  it("refuses the same still twice, and points outside of it, each by name", async () => {
    const twin = await plainStill("twin.png");
    const grid = {
      kind: "grid",
      pattern: { kind: "corners", along: 9, across: 6, pitchMetres: 0.01 },
    } as const;
    await expect(calibrateStills([still, twin], { standard: grid })).rejects.toMatchObject({
      code: "same-still",
      message: expect.stringContaining("still.png and twin.png hold the same picture"),
    });
    const outside = {
      kind: "lengths",
      lengths: [
        {
          length: { value: 0.03 },
          between: [
            [20, 50],
            [400, 50],
          ],
        },
      ],
    } as const;
    const beyond = {
      ...points,
      points: points.points.map((one, k) => (k ? one : { ...one, pixel: [10, -3] })),
    };
    for (const [standard, place] of [
      [outside, "400,50"],
      [beyond, "10,-3"],
    ] as [CalibrateOptions["standard"], string][])
      await expect(scaleOf({ standard })).rejects.toMatchObject({
        code: "point-outside",
        message: expect.stringContaining(`the point ${place} lies outside still.png`),
      });
  });

  it("refuses stills of two sizes, and names a still without a grid", async () => {
    const other = await plainStill("other.png", 210, 100);
    const grid = {
      kind: "grid",
      pattern: { kind: "corners", along: 9, across: 6, pitchMetres: 0.01 },
    } as const;
    await expect(calibrateStills([still, other], { standard: grid })).rejects.toThrow(
      "still.png is 200 x 100 px, other.png 210 x 100",
    );
    await expect(calibrateStills([still], { standard: grid })).rejects.toMatchObject({
      code: "grid-absent",
      message: expect.stringContaining("still.png: no grid is seen"),
    });
  });
});

describe("readScale", () => {
  it("names a file that is not there, one that is no JSON, and one that is no scale", async () => {
    await expect(readScale(join(root, "none.json"))).rejects.toMatchObject({ code: "file-unreadable" });
    await writeFile(join(root, "text.json"), "scale");
    await expect(readScale(join(root, "text.json"))).rejects.toMatchObject({ code: "file-not-json" });
    await writeFile(join(root, "other.json"), "{}");
    await expect(readScale(join(root, "other.json"))).rejects.toThrow(
      "other.json is not a scale but an empty object: give the scale.json that frontpace calibrate wrote",
    );
  });
});

describe("calibrationOf", async () => {
  const scale = await scaleOf({ standard: ruler, pointingPixels: 0.3 });
  await writeFile(join(root, "scale.json"), JSON.stringify(scale));
  const file = (more: Partial<TakeFile>): TakeFile => ({ format: "frontpace-take", version: 1, ...more });
  const named = join(root, "scale.json");

  it("reads the file that take.json names from where that stands, or that the options name", async () => {
    const take = join(root, "tile");
    expect(await calibrationOf({}, file({ calibration: "../scale.json" }), take)).toEqual(scale);
    expect(await calibrationOf({ calibration: named }, null, take)).toEqual(scale);
  });

  it("lets the options win, whichever way the scale is given", async () => {
    expect(await calibrationOf({ metresPerPixel: 1 }, file({ calibration: "none.json" }), root)).toBeNull();
    expect(await calibrationOf({ calibration: named }, file({ metresPerPixel: 1 }), root)).toEqual(scale);
  });

  it("refuses a scale that is given twice in one place, and what belongs to none", async () => {
    const both = { calibration: named, metresPerPixel: 1 };
    await expect(calibrationOf(both, null, root)).rejects.toMatchObject({ code: "scale-twice" });
    await expect(calibrationOf({}, file(both), root)).rejects.toThrow("take.json give the scale twice");
    await expect(calibrationOf({ binning: 2 }, null, root)).rejects.toThrow(
      "binning says how a calibration fits",
    );
  });
});

describe("a calibration in use", async () => {
  const bare = await scaleOf({ standard: ruler, pointingPixels: 0.3 });
  const plane = await scaleOf({ standard: points, pointingPixels: 0.2 });
  const inUse = (scale: ScaleFile, more = {}) => ({
    scale,
    sensorOffset: null,
    binning: null,
    medium: "air",
    ...more,
  });
  const path = [
    [10, 50],
    [110, 50],
  ] as const;

  it("gives the single scale before the path is known, larger where the take is binned", () => {
    const options = { rateHz: 1, binning: 2 };
    expect(settle(options, null, bare).metresPerPixel.value).toBe(2 * bare.metresPerPixel);
  });

  it("refuses a plane map in a take of another size without its place on the sensor, and not a bare scale", () => {
    const crop = { rows: 48, columns: 200 };
    expect(() => checkCalibration(inUse(plane), crop)).toThrow(
      expect.objectContaining({ code: "calibration-other-size" }),
    );
    expect(() => checkCalibration(inUse(plane, { sensorOffset: [0, 20] }), crop)).not.toThrow();
    expect(() => checkCalibration(inUse(bare), crop)).not.toThrow();
  });

  it("refuses a place on the sensor that reaches beyond it, where its size is known", async () => {
    const sensor = { columns: 200, rows: 100 };
    const placed = await scaleOf({ standard: points, pointingPixels: 0.2, sensor });
    expect(placed.sensor).toEqual(sensor);
    const crop = { rows: 48, columns: 200 };
    const check = (more: object) => () => checkCalibration(inUse(placed, more), crop);
    const beyond = expect.objectContaining({ code: "sensor-exceeded" });
    expect(check({ sensorOffset: [0, 52] })).not.toThrow();
    expect(check({ sensorOffset: [0, 53] })).toThrow(beyond);
    expect(check({ sensorOffset: [0, 0], binning: 2 })).toThrow(beyond);
    expect(() => checkCalibration(inUse(plane, { sensorOffset: [0, 900] }), crop)).not.toThrow();
    for (const wrong of [
      { sensor: { columns: 199, rows: 100 } },
      { sensor, binning: 2 },
      { sensor, sensorOffset: [0, 1] as const },
      { sensorOffset: [-1, 0] as const },
    ])
      await expect(scaleOf({ standard: points, pointingPixels: 0.2, ...wrong })).rejects.toMatchObject({
        code: "sensor-exceeded",
      });
  });

  it("refuses another medium", () => {
    const whole = { rows: 100, columns: 200 };
    expect(() => checkCalibration(inUse(bare, { medium: "water" }), whole)).toThrow(
      expect.objectContaining({ code: "calibration-other-medium" }),
    );
  });

  it("measures lengths along a path, in any crop and binning of the same sensor", () => {
    const length = ({ record }: ReturnType<typeof calibratedPath>) => record.pathMetres;
    expect(relative(length(calibratedPath(inUse(plane), path)), 0.02)).toBeLessThan(1e-9);
    const cropped = [
      [0, 30],
      [100, 30],
    ] as const;
    expect(
      relative(length(calibratedPath(inUse(plane, { sensorOffset: [10, 20] }), cropped)), 0.02),
    ).toBeLessThan(1e-9);
    const binned = [
      [5, 25],
      [55, 25],
    ] as const;
    const there = calibratedPath(inUse(plane, { binning: 2 }), binned);
    expect(relative(length(there), 0.02)).toBeLessThan(1e-9);
    expect(relative(there.metresPerPixel.value, 4e-4)).toBeLessThan(1e-9);
    expect(relative(there.lengths!.metresAt(25), 0.01)).toBeLessThan(1e-9);
    expect(Math.abs(there.lengths!.pixelsAt(0.01) - 25)).toBeLessThan(1e-6);
  });

  it("counts the scatter of points with 2 N − 8 degrees of freedom, and pointing that outweighs it as type B", async () => {
    const six = [
      ...points.points,
      ...[60, 130].map((x) => ({ pixel: [x, 50], plane: [2e-4 * x, 0.01] })),
    ].map(({ pixel: [x, y], plane: [u, v] }, k) => ({
      pixel: [x + (k % 2 ? 0.4 : -0.4), y] as const,
      plane: [u, v] as const,
    }));
    const of = async (pointingPixels: number) => {
      const scale = await scaleOf({ standard: { ...points, points: six }, pointingPixels });
      const line = scale.budget.find(({ source }) => source === "pointing")!;
      const { type, degreesOfFreedom } = calibratedPath(inUse(scale), path).effects.obliquity!;
      expect({ type, degreesOfFreedom }).toEqual({
        type: line.type,
        degreesOfFreedom: line.degreesOfFreedom,
      });
      return [type, degreesOfFreedom];
    };
    expect(await of(0.01)).toEqual(["A", 4]);
    expect(await of(2)).toEqual(["B", null]);
  });

  it("splits what pointing leaves open into the scale's own part and the obliquity, without loss", () => {
    const { metresPerPixel, effects } = calibratedPath(inUse(plane), path);
    const parts = metresPerPixel.parts!.map(({ relativeStandardUncertainty }) => relativeStandardUncertainty);
    expect(metresPerPixel.parts!.map(({ source }) => source)).toEqual(["length standard", "pointing"]);
    expect(effects.obliquity!.relative).toBeGreaterThan(0);
    expect(effects.lens).toBeNull();
    const all = Math.hypot(...parts, effects.obliquity!.relative);
    expect(relative(metresPerPixel.standardUncertainty! / metresPerPixel.value, all)).toBeLessThan(1e-12);
  });

  it("carries depth and window of a bare scale into their own lines", async () => {
    const depth = {
      distance: { value: 0.5, standardUncertainty: 0.005 },
      depthOffset: { value: 0, standardUncertainty: 0.002 },
      plates: [
        {
          thickness: { value: 0.01, standardUncertainty: 0 },
          index: { value: 1.5, standardUncertainty: 0.05 },
        },
      ],
    };
    const deep = await scaleOf({ standard: ruler, pointingPixels: 0.3, depth });
    const { effects, metresPerPixel } = calibratedPath(inUse(deep), path);
    const factor = 1 - 0.01 / 3 / 0.5;
    expect(relative(metresPerPixel.value, 2e-4 * factor)).toBeLessThan(1e-9);
    expect(effects.planes!.relative).toBeGreaterThan(0.003);
    // t u(n) / n² / D
    expect(relative(effects.refraction!.relative, (0.01 * 0.05) / 2.25 / 0.5 / factor)).toBeLessThan(2e-3);
  });

  it("refuses a path behind the horizon of the plane, whichever sign the map in the file has", () => {
    // Seen where x < 100 px, as the middle of the points says.
    for (const sign of [1, -1]) {
      const entries = [
        [sign, 0, 0],
        [0, sign, 0],
        [-0.01 * sign, 0, sign],
      ] as [[number, number, number], [number, number, number], [number, number, number]];
      const tilted: ScaleFile = {
        ...plane,
        planeMap: { ...plane.planeMap!, matrix: entries },
        madeFrom: { ...plane.madeFrom, middlePixels: [40, 50] },
      };
      const from = (x: number) =>
        calibratedPath(inUse(tilted), [
          [x, 50],
          [x + 40, 50],
        ]);
      expect(from(20).record.pathMetres).toBeGreaterThan(0);
      expect(() => from(120)).toThrow(expect.objectContaining({ code: "calibration-not-here" }));
    }
  });

  it("says where a path reaches beyond the calibrated points by more than a fifth of what they span", () => {
    const warnings = (x: number) =>
      calibratedPath(inUse({ ...plane, columns: 400 }), [
        [10, 50],
        [x, 50],
      ]).warnings;
    // The points span 180 x 80 px, 197 px from corner to corner, up to x = 190.
    expect(warnings(229)).toEqual([]);
    expect(warnings(230)).toEqual([
      {
        code: "beyond-calibrated-points",
        message: expect.stringContaining("40 px from the calibrated points, which span 197 px only"),
      },
    ]);
  });

  it("says where a path leaves the picture that was calibrated, wherever the take lies on the sensor", () => {
    const warnings = (more: object, x: number, y = 50, scale = plane) =>
      calibratedPath(inUse(scale, more), [
        [10, 10],
        [x, y],
      ]).warnings;
    // 200 x 100 px, whose last column ends at x = 199.5.
    expect(warnings({}, 199.5)).toEqual([]);
    expect(warnings({}, 202)).toEqual([
      {
        code: "beyond-calibration",
        message: expect.stringMatching(
          /2\.5 px outside the picture that was calibrated \(200 x 100 px.*Film the standard where the front runs.*or give a path inside/,
        ),
      },
    ]);
    const codes = (...of: Parameters<typeof warnings>) => warnings(...of).map(({ code }) => code);
    // Sensor columns and rows of the path's end: 179 + 20; 180 + 20; 2 x 100 + 0.5.
    expect(codes({ sensorOffset: [20, 0] }, 179)).toEqual([]);
    expect(codes({ sensorOffset: [20, 0] }, 180)).toEqual(["beyond-calibration"]);
    expect(codes({ sensorOffset: [0, 60] }, 150, 39)).toEqual([]);
    expect(codes({ sensorOffset: [0, 60] }, 150, 40)).toEqual(["beyond-calibration"]);
    expect(codes({ binning: 2 }, 99, 20)).toEqual([]);
    expect(codes({ binning: 2 }, 100, 20)).toEqual(["beyond-calibration"]);
    expect(codes({}, 202, 50, bare)).toEqual([]);
  });

  it("says where a path lies beyond what was seen of the lens, and where the plane ends", () => {
    const lens = {
      k1: -0.01,
      k2: 0,
      radiusPixels: 100,
      centrePixels: [100, 50] as [number, number],
      covariance: [
        [1e-8, 0],
        [0, 1e-8],
      ] as [[number, number], [number, number]],
      reachPixels: 60,
    };
    const through = { ...plane, lens };
    expect(calibratedPath(inUse(through), path).warnings.map(({ code }) => code)).toEqual([
      "beyond-calibrated-lens",
    ]);
    expect(
      calibratedPath(inUse(through), [
        [70, 50],
        [130, 50],
      ]).warnings,
    ).toEqual([]);
    const tilted = {
      ...plane,
      planeMap: {
        ...plane.planeMap!,
        matrix: [
          [1, 0, 0],
          [0, 1, 0],
          [-0.01, 0, 1],
        ] as [[number, number, number], [number, number, number], [number, number, number]],
      },
    };
    expect(() =>
      calibratedPath(inUse(tilted), [
        [50, 50],
        [150, 50],
      ]),
    ).toThrow(expect.objectContaining({ code: "calibration-not-here" }));
  });
});
