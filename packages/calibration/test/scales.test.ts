import { describe, expect, it } from "vitest";
import { scaleFromPlane } from "../src/plane/plane-map-scale.js";
import { correctDepth } from "../src/scale/depth-corrections.js";
import { scaleFromLengths } from "../src/scale/lengths-scale.js";
import { agreesWithLinear, monteCarlo } from "../src/scale/monte-carlo.js";
import { betweenWindows } from "../src/scale/sensor-window.js";
import { board, oblique, seenPoints, square } from "./cameras.js";

const relative = (value: number, expected: number) => Math.abs(value / expected - 1);
const line = (
  scale: { budget: readonly { source: string; relativeStandardUncertainty: number }[] },
  name: string,
) => scale.budget.find(({ source }) => source === name)?.relativeStandardUncertainty;

describe("scaleFromLengths", () => {
  const ruler = {
    length: { value: 0.3, standardUncertainty: 1e-4 },
    between: [
      [100, 40],
      [1100, 40],
    ],
  } as const;

  it("is length over distance; uncertainties are those of the length and of two points", () => {
    const scale = scaleFromLengths([ruler], 0.5);
    expect(relative(scale.metresPerPixel, 3e-4)).toBeLessThan(1e-12);
    expect(relative(line(scale, "length standard")!, 1 / 3000)).toBeLessThan(1e-9);
    expect(relative(line(scale, "pointing")!, (Math.SQRT2 * 0.5) / 1000)).toBeLessThan(1e-9);
    expect(scale.disagree).toBeNull();
    expect(scale.missing).toEqual([]);
    expect(scale.monteCarlo.agrees).toBe(true);
    // 10,000 draws tell it to 0.7 %
    expect(relative(scale.monteCarlo.standardUncertainty, scale.standardUncertainty)).toBeLessThan(0.03);
  });

  it("takes the Monte Carlo run's figure where the linear one is too small", () => {
    // Two points 6 px apart, known to 0.7 px each: one over the distance is far from linear.
    const scale = scaleFromLengths(
      [
        {
          length: { value: 1, standardUncertainty: 0 },
          between: [
            [0, 0],
            [6, 0],
          ],
        },
      ],
      0.7,
    );
    expect(scale.monteCarlo.agrees).toBe(false);
    expect(line(scale, "beyond linear propagation")).toBeGreaterThan(0.05);
    expect(relative(scale.standardUncertainty, scale.monteCarlo.standardUncertainty)).toBeLessThan(1e-9);
  });

  it("names a length without an uncertainty", () => {
    const scale = scaleFromLengths([{ ...ruler, length: { value: 0.3 } }], 0.5);
    expect(scale.missing).toEqual(["length standard"]);
    expect(line(scale, "length standard")).toBeUndefined();
  });

  it("weighs lengths by their whole uncertainty: one that is hardly known does not pull", () => {
    const rough = {
      length: { value: 0.33, standardUncertainty: 0.03 },
      between: [
        [100, 60],
        [1100, 60],
      ],
    } as const;
    const { metresPerPixel } = scaleFromLengths([ruler, rough], 0.5);
    // Inverse variances: 3e-4 with u = 2.35e-7, 3.3e-4 with u = 3e-5
    const [a, b] = [1 / (1e-7 ** 2 + (3e-4 * Math.SQRT1_2 * 1e-3) ** 2), 1 / 3e-5 ** 2];
    expect(relative(metresPerPixel, (a * 3e-4 + b * 3.3e-4) / (a + b))).toBeLessThan(1e-6);
  });

  it("combines lengths that agree, and puts what others differ by into the budget", () => {
    const upright = {
      ...ruler,
      between: [
        [100, 40],
        [100, 1041],
      ],
    } as const;
    const agreeing = scaleFromLengths([ruler, upright], 0.5);
    expect(agreeing.disagree).toBe(false);
    // 3.0000e-4 and 2.9970e-4, weighed almost alike
    expect(relative(agreeing.metresPerPixel, 2.9985e-4)).toBeLessThan(1e-4);

    const oblique = {
      ...ruler,
      between: [
        [100, 40],
        [100, 1060],
      ],
    } as const;
    const differing = scaleFromLengths([ruler, oblique], 0.5);
    expect(differing.disagree).toBe(true);
    // 3.0000e-4 and 2.9412e-4: standard deviation 4.16e-6 of 2.97e-4, 1.4 %; some of it is pointing
    expect(relative(line(differing, "repeat")!, 0.014)).toBeLessThan(0.05);
  });

  it.each([
    [[], "too-few-points"],
    [
      [
        {
          ...ruler,
          between: [
            [5, 5],
            [5, 5],
          ],
        },
      ],
      "coincident-points",
    ],
    [[{ ...ruler, length: { value: -1 } }], "invalid-value"],
  ] as const)("refuses %j", (lengths, code) => {
    expect(() => scaleFromLengths(lengths as never, 0.5)).toThrow(expect.objectContaining({ code }));
  });
});

describe("scaleFromPlane", () => {
  it("has the scale of a camera square on: distance over focal length, everywhere", () => {
    const scale = scaleFromPlane(seenPoints(square, board), {
      pointingPixels: 0.05,
      relativeStandardUncertainty: 1e-3,
    });
    expect(relative(scale.metresPerPixel, 0.3 / 900)).toBeLessThan(1e-9);
    expect(scale.missing).toEqual([]);
    // The map has more freedom than a similarity.
    expect(line(scale, "pointing")!).toBeGreaterThan(scale.pointing);
    expect(scale.monteCarlo.agrees).toBe(true);
  });

  it("carries the depth of the event into map and scale", () => {
    const depth = {
      distance: { value: 0.3, standardUncertainty: 0.003 },
      depthOffset: { value: 0.03, standardUncertainty: 0.001 },
    };
    const near = scaleFromPlane(seenPoints(square, board), {
      pointingPixels: 0.05,
      relativeStandardUncertainty: 0,
      depth,
    });
    const far = { ...square, place: [-0.04, -0.025, 0.33] as const };
    const truth = scaleFromPlane(seenPoints(far, board), { pointingPixels: 0.05 });
    expect(relative(near.metresPerPixel, truth.metresPerPixel)).toBeLessThan(1e-9);
    const atMap = near.planeMap.matrix[0][0] / near.planeMap.matrix[2][2];
    expect(relative(atMap, truth.planeMap.matrix[0][0] / truth.planeMap.matrix[2][2])).toBeLessThan(1e-9);
    // d(D + d)/D: sqrt((u_d/D)² + (u_D d/D²)²) / 1.1
    const expected = Math.hypot(0.001 / 0.3, (0.003 * 0.03) / 0.09) / 1.1;
    expect(relative(line(near, "event plane against scale plane")!, expected)).toBeLessThan(1e-5);
  });

  it("names what came without an uncertainty", () => {
    const depth = { distance: { value: 0.3, standardUncertainty: 0 }, depthOffset: { value: 0.03 } };
    const scale = scaleFromPlane(seenPoints(oblique, board), { pointingPixels: 0.05, depth });
    expect(scale.missing).toEqual(["length standard", "depth"]);
  });

  it("puts into the budget what repeats differ by beyond pointing", () => {
    const scale = scaleFromPlane(seenPoints(square, board), {
      pointingPixels: 0.001,
      repeats: [3.3e-4, 3.36e-4],
    });
    // 0.06/sqrt(2) of 3.33
    expect(relative(line(scale, "repeat")!, 0.06 / Math.SQRT2 / 3.33)).toBeLessThan(1e-3);
  });
});

describe("correctDepth", () => {
  const exact = (value: number) => ({ value, standardUncertainty: 0 });

  it("moves what lies behind a plate of thickness t and index n nearer by t (1 - 1/n)", () => {
    const { factor } = correctDepth({
      distance: exact(0.5),
      plates: [{ thickness: exact(0.015), index: exact(1.5) }],
    });
    expect(relative(factor, (0.5 - 0.005) / 0.5)).toBeLessThan(1e-12);
  });

  it("agrees with a ray followed through the plate by Snell's law, to a tenth of the correction at 8 degrees", () => {
    const [t, n, distance] = [0.015, 1.5, 0.5];
    const angle = (8 * Math.PI) / 180;
    const inside = Math.asin(Math.sin(angle) / n);
    const height = (distance - t) * Math.tan(angle) + t * Math.tan(inside);
    // In the picture the point stands at tan(angle): metres per pixel are height / tan(angle), without plate distance.
    const traced = height / Math.tan(angle) / distance;
    const { factor } = correctDepth({
      distance: exact(distance),
      plates: [{ thickness: exact(t), index: exact(n) }],
    });
    expect(Math.abs(factor - traced)).toBeLessThan(0.1 * (1 - factor));
    expect(factor).not.toBe(1);
  });

  it("needs a distance, an index of a real medium, an event before the camera", () => {
    const plates = [{ thickness: exact(0.01), index: exact(0.9) }];
    expect(() => correctDepth({ depthOffset: exact(0.01) })).toThrow("needs the distance");
    expect(() => correctDepth({ distance: exact(0.5), plates })).toThrow("index of refraction from 1 to 5");
    expect(() => correctDepth({ distance: exact(0.5), depthOffset: exact(-0.6) })).toThrow("check distance");
    expect(correctDepth({})).toMatchObject({ factor: 1, budget: [] });
  });
});

describe("monteCarlo", () => {
  it("gives mean, standard deviation and 95 % of a normal distribution", () => {
    const drawn = monteCarlo((normal) => 5 + 2 * normal());
    expect(Math.abs(drawn.mean - 5)).toBeLessThan(0.08);
    expect(relative(drawn.standardUncertainty, 2)).toBeLessThan(0.03);
    expect(Math.abs(drawn.interval[1] - 5 - 1.96 * 2)).toBeLessThan(0.15);
    expect(agreesWithLinear(5, 2, drawn)).toBe(true);
    expect(agreesWithLinear(5, 3, drawn)).toBe(false);
  });
});

describe("betweenWindows", () => {
  it("shifts by the offsets, and keeps the corner of a binned pixel in place", () => {
    const whole = { sensorOffset: [0, 0], binning: 1 } as const;
    expect(betweenWindows({ sensorOffset: [0, 364], binning: 1 }, whole, [10, 5])).toEqual([10, 369]);
    // The first binned pixel covers sensor pixels 0 and 1: its centre lies between them.
    expect(betweenWindows({ sensorOffset: [0, 0], binning: 2 }, whole, [0, 3])).toEqual([0.5, 6.5]);
    expect(betweenWindows(whole, { sensorOffset: [0, 0], binning: 2 }, [0.5, 6.5])).toEqual([0, 3]);
  });
});
