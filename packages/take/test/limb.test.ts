import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { limbLengths } from "../src/path/limb-lengths.js";

const [rows, columns, count] = [80, 80, 44];
const [origin, distance] = [[38, 42] as const, 160];
const known = { rateHz: 1, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 };
const radiusAt = (time: number) => time - 5;

/** Invented frames of a sphere whose radius grows at 1 px a frame, seen by its limb from 160 px: where r is 35 px, the seen speed is 7 % too high. */
const sphere = {
  name: "invented",
  numbers: Array.from({ length: count }, (_, k) => k),
  rows,
  columns,
  bitDepth: 32,
  async *frames({ start = 0, end = count }: { start?: number; end?: number } = {}) {
    for (let index = start; index < end; index++) {
      const radius = Math.max(0, radiusAt(index));
      const seen = radius / Math.sqrt(1 - (radius / distance) ** 2);
      const samples = Float32Array.from({ length: rows * columns }, (_, k) => {
        const r = Math.hypot((k % columns) - origin[0], Math.floor(k / columns) - origin[1]);
        return 100 + 50 / (1 + Math.exp(1.5 * (r - seen))) + 2 * Math.sin(12.9898 * k + 78.233 * index);
      });
      yield { index, number: index, frame: ndarray(samples, [rows, columns]) };
    }
  },
};

async function measured(options = {}) {
  const { result, track } = await measureTake({ frames: sphere }, { ...known, ...options });
  if (result.status !== "measured") throw new Error(JSON.stringify(result.warnings));
  const { budget, notEvaluated = [], value, expandedUncertainty } = result.speed;
  return {
    ...{ result, track, value, expandedUncertainty },
    line: budget.find(({ source }) => source === "limb of a sphere"),
    reason: notEvaluated.find(({ source }) => source === "limb of a sphere")?.reason,
    codes: result.warnings.map(({ code }) => code),
  };
}

describe("a sphere seen by its limb", () => {
  it("is measured too fast without the camera's distance, and the budget says so", async () => {
    const { value, expandedUncertainty, line, reason } = await measured();
    expect(value - 1).toBeGreaterThan(2 * expandedUncertainty);
    expect(line).toBeUndefined();
    expect(reason).toContain("--distance");
  });

  it("is measured at the speed of its radius with it, which is then constant", async () => {
    const { result, value, expandedUncertainty, track, line, codes } = await measured({
      distanceMetres: distance,
      distanceUncertaintyMetres: 8,
    });
    expect(result.shape?.measuredAlong).toBe("radius");
    expect(Math.abs(value - 1)).toBeLessThan(expandedUncertainty);
    expect(Math.abs(value - 1)).toBeLessThan(2e-3);
    expect(codes).not.toContain("speed-not-constant");
    expect(codes).not.toContain("distance-not-used");
    const used = track.filter((row) => row.used);
    // Half of the edge has left the rays in the last frames.
    const within = used.filter(({ frame }) => frame >= 12 && frame <= 38);
    const [from, to] = [within[0], within[within.length - 1]];
    const ran = (to.positionMetres - from.positionMetres) / (to.frame - from.frame);
    expect(Math.abs(ran - 1)).toBeLessThan(2e-3);
    // 3 q² u(Z)/Z/(1 + q²) with u(Z)/Z of 5 % and q of the middle radius, about 20 px of 160
    const middle = (used[0].frame + used[used.length - 1].frame) / 2;
    const square = (radiusAt(middle) / distance) ** 2;
    expect(line?.type).toBe("B");
    expect(Math.abs(line!.relative! / (3 * square * 0.05) - 1)).toBeLessThan(0.1);
  });

  it("has its correction in no line of the budget, but among what is not evaluated, where the distance has no uncertainty", async () => {
    const { value, line, reason } = await measured({ distanceMetres: distance });
    expect(Math.abs(value - 1)).toBeLessThan(2e-3);
    expect(line).toBeUndefined();
    expect(reason).toContain("the uncertainty of that distance was not stated");
  });

  it("follows a model of its radius, not of its limb", async () => {
    const { result } = await measured({ distanceMetres: distance, model: "power-law", startTimeSeconds: 5 });
    const { value, standardUncertainty } = result.model.parameters.exponent;
    expect(Math.abs(value - 1)).toBeLessThan(Math.max(3 * standardUncertainty, 0.005));
  });

  it("hands the uncertainty of the distance on to the parameters of a model", async () => {
    const parametersAt = async (metres: number, u?: number) => {
      const { result } = await measured({
        distanceMetres: metres,
        ...(u !== undefined && { distanceUncertaintyMetres: u }),
        model: "power-law",
        startTimeSeconds: 5,
      });
      return result.model.parameters;
    };
    const sure = await parametersAt(distance, 0);
    const unsure = await parametersAt(distance, 8);
    // Measured again from a distance that is off by its uncertainty.
    const other = await parametersAt(distance + 8);
    for (const name of ["coefficient", "exponent"]) {
      const [a, b, c] = [sure, unsure, other].map((parameters) => parameters[name]);
      expect(b.value).toBe(a.value);
      const added = Math.sqrt(b.standardUncertainty ** 2 - a.standardUncertainty ** 2);
      expect(added).toBeGreaterThan(0.2 * a.standardUncertainty);
      expect(Math.abs(added / Math.abs(c.value - a.value) - 1)).toBeLessThan(0.2);
    }
  });

  it("is not corrected along a path, and says so", async () => {
    const path: [[number, number], [number, number]] = [
      [40, 42],
      [78, 42],
    ];
    const { codes } = await measured({ distanceMetres: distance, path });
    expect(codes).toContain("distance-not-used");
  });

  it("is refused from a camera nearer than two of its radii", async () => {
    await expect(measured({ distanceMetres: 30 })).rejects.toThrow(
      "distanceMetres must be at least 2 times the radius",
    );
  });
});

describe("limbLengths", () => {
  it("turns radii seen into radii and back", () => {
    const lengths = limbLengths(
      { value: 3 },
      0.01,
      [-4, 0],
      [
        [6, 0],
        [86, 0],
      ],
    );
    for (const pixels of [0, 1, 40, 80]) {
      const seen = 0.01 * (10 + pixels);
      const radius = seen / Math.sqrt(1 + (seen / 3) ** 2);
      expect(Math.abs(lengths.firstMetres + lengths.metresAt(pixels) - radius)).toBeLessThan(1e-14);
      expect(Math.abs(lengths.pixelsAt(lengths.metresAt(pixels)) - pixels)).toBeLessThan(1e-10);
      // The derivative of ln(dR/dr) by ln Z, in small steps.
      const slope = (z: number) => {
        const other = limbLengths(
          { value: z },
          0.01,
          [-4, 0],
          [
            [6, 0],
            [86, 0],
          ],
        );
        return other.metresAt(pixels + 0.01) - other.metresAt(pixels - 0.01);
      };
      const share = (Math.log(slope(3.003)) - Math.log(slope(2.997))) / 0.002;
      expect(Math.abs(lengths.speedByDistance(pixels) - share)).toBeLessThan(1e-4);
    }
  });
});
