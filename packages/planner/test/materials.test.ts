import { describe, expect, it } from "vitest";
import {
  crackSpeedsIn,
  findMaterial,
  materials,
  poissonRatioOf,
  rayleighRatio,
  waveSpeeds,
  wavesIn,
} from "../src/index.js";

const relative = (a: number, b: number) => Math.abs(a / b - 1);

describe("rayleighRatio", () => {
  it.each([
    [0, Math.sqrt(3 - Math.sqrt(5))],
    [0.25, Math.sqrt(2 - 2 / Math.sqrt(3))],
  ])("has its closed form at a Poisson's ratio of %f, to 1e-15", (nu, exact) => {
    expect(relative(rayleighRatio(nu), exact)).toBeLessThan(1e-15);
  });

  it("solves the equation as Rayleigh wrote it, (2 − x)² = 4 sqrt((1 − x)(1 − kx))", () => {
    for (let nu = 0; nu < 0.5; nu += 0.01) {
      const k = (1 - 2 * nu) / (2 * (1 - nu));
      const x = rayleighRatio(nu) ** 2;
      expect(Math.abs((2 - x) ** 2 - 4 * Math.sqrt((1 - x) * (1 - k * x)))).toBeLessThan(1e-13);
    }
  });

  it.each([-0.01, 0.51, Number.NaN])("refuses %f", (nu) => {
    expect(() => rayleighRatio(nu)).toThrow(`poissonRatio must be from 0 to 0.5, got ${nu}`);
  });
});

describe("waveSpeeds", () => {
  it("and poissonRatioOf undo each other, to 1e-12", () => {
    for (const nu of [0, 0.17, 0.2, 0.35, 0.45]) {
      const { longitudinal, shear } = waveSpeeds(70e9, 2500, nu);
      expect(Math.abs(poissonRatioOf(longitudinal, shear) - nu)).toBeLessThan(1e-12);
      // The modulus back from ρ c_T² (3c_L² − 4c_T²)/(c_L² − c_T²).
      const modulus =
        (2500 * shear ** 2 * (3 * longitudinal ** 2 - 4 * shear ** 2)) / (longitudinal ** 2 - shear ** 2);
      expect(relative(modulus, 70e9)).toBeLessThan(1e-12);
    }
  });

  it("refuses what no solid has", () => {
    expect(() => waveSpeeds(-1, 2500, 0.2)).toThrow(RangeError);
    expect(() => waveSpeeds(70e9, 2500, 0.5)).toThrow(RangeError);
    expect(() => poissonRatioOf(3000, 3000)).toThrow("longitudinal must be at least sqrt(2) times shear");
  });
});

describe("the physics table", () => {
  it("names each material once, with a source, a status, and waves in their order", () => {
    expect(new Set(materials.map(({ name }) => name)).size).toBe(materials.length);
    for (const material of materials) {
      if (material.elastic !== null) {
        const { longitudinal, shear, rayleigh } = wavesIn(material);
        expect(rayleigh).toBeLessThan(shear);
        expect(shear).toBeLessThan(longitudinal);
      }
      for (const { source, status } of [
        ...material.crackSpeeds,
        { source: material.elasticSource, status: material.elasticStatus },
      ]) {
        expect(source.length).toBeGreaterThan(10);
        expect(["read", "secondary", "memory"]).toContain(status);
      }
    }
  });

  it("has no crack faster than the Rayleigh speed of its material", () => {
    for (const material of materials)
      for (const { low, high } of material.crackSpeeds) {
        expect(low).toBeLessThanOrEqual(high);
        if (material.elastic !== null) expect(high).toBeLessThan(wavesIn(material).rayleigh);
      }
  });

  it("an unknown material is named, with those that are known", () => {
    expect(() => findMaterial("granite")).toThrow(
      expect.objectContaining({
        code: "unknown-material",
        message: expect.stringContaining("soda-lime-glass"),
      }),
    );
  });

  it("the range of speeds spans all that were published, each with its status", () => {
    const { low, high, sources } = crackSpeedsIn(findMaterial("soda-lime-glass"));
    expect([low, high]).toEqual([1466, 1800]);
    expect(sources.filter((text) => text.endsWith("(read at the source)"))).toHaveLength(1);
    expect(sources.filter((text) => text.endsWith("(from memory, not verified)"))).toHaveLength(3);
  });

  it("says where it has no elastic constants, which it has of all but the lead-oxide glass", () => {
    expect(materials.filter(({ elastic }) => elastic === null).map(({ name }) => name)).toEqual([
      "lead-oxide-glass",
    ]);
    expect(() => wavesIn(findMaterial("lead-oxide-glass"))).toThrow(
      expect.objectContaining({
        code: "no-elastic-constants",
        fields: expect.objectContaining({ key: "material" }),
      }),
    );
  });

  it("says where it has no speed of cracks", () => {
    expect(() => crackSpeedsIn(findMaterial("acrylic"))).toThrow(
      expect.objectContaining({ code: "no-crack-speed", message: expect.stringContaining("1036 m/s") }),
    );
  });
});
