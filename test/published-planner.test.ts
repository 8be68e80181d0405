import {
  crackShares,
  findMaterial,
  mainsFlicker,
  materials,
  poissonRatioOf,
  positionUncertainty,
  rayleighRatio,
  waveSpeeds,
  wavesIn,
} from "@frontpace/planner";
import { describe, expect, it } from "vitest";
import edge from "./published/edge-localisation-crb.json" with { type: "json" };
import glass from "./published/glass-fracture.json" with { type: "json" };
import photography from "./published/photography.json" with { type: "json" };
import rayleigh from "./published/rayleigh-wave.json" with { type: "json" };
import solids from "./published/wave-speeds-solids.json" with { type: "json" };

const relative = (a: number, b: number) => Math.abs(a / b - 1);

describe("rayleighRatio", () => {
  it("reproduces the tabulated ratio of Rayleigh to shear speed at 51 Poisson's ratios to 1e-14", () => {
    expect(rayleigh.table).toHaveLength(51);
    for (const { nu, cR_over_cT } of rayleigh.table)
      expect(relative(rayleighRatio(nu), cR_over_cT)).toBeLessThan(1e-14);
  });

  it("has the published values at 0, 0.25 and 0.5, to the last digit of a double", () => {
    const { nuZero, exactPoissonSolid, incompressible } = rayleigh;
    for (const [nu, value] of [
      [0, nuZero.value],
      [0.25, exactPoissonSolid.value],
      [0.5, incompressible.value],
    ] as const)
      expect(relative(rayleighRatio(nu), Number(value))).toBeLessThan(3e-16);
  });

  it("lies within the 0.47 % that Viktorov's approximation, (0.87 + 1.12 ν)/(1 + ν), is off at most", () => {
    for (const { nu } of rayleigh.table)
      expect(relative((0.87 + 1.12 * nu) / (1 + nu), rayleighRatio(nu))).toBeLessThan(0.0047);
  });
});

describe("the physics table", () => {
  // The published Poisson's ratios are given to four digits, the Rayleigh speeds to 0.1 m/s.
  it("the speeds of the handbook's rows give the Rayleigh speeds and Poisson's ratios computed from them elsewhere", () => {
    for (const { cL, cT, derived } of [...solids.crc, ...solids.astmE494]) {
      const nu = poissonRatioOf(cL, cT);
      expect(Math.abs(nu - derived.nu)).toBeLessThan(6e-5);
      expect(Math.abs(cT * rayleighRatio(nu) - derived.cR)).toBeLessThan(0.06);
    }
  });

  it("the constants of EN 572-1 give the speeds in soda-lime glass computed from them elsewhere, to 0.1 m/s", () => {
    const { cL, cT, cR } = glass.derivedWaveSpeeds_m_s["EN572 (E=70 GPa, rho=2500, nu=0.20)"];
    const waves = waveSpeeds(70e9, 2500, 0.2);
    expect(Math.abs(waves.longitudinal - cL)).toBeLessThan(0.06);
    expect(Math.abs(waves.shear - cT)).toBeLessThan(0.06);
    expect(Math.abs(waves.rayleigh - cR)).toBeLessThan(0.06);
    expect(wavesIn(findMaterial("soda-lime-glass"))).toEqual(waves);
  });

  it("holds the bulk speeds of the handbook for every material that it takes from there", () => {
    const names: Record<string, string> = {
      "fused-silica": "Fused silica",
      "borosilicate-glass": "Glass, Pyrex",
      "heavy-silicate-flint-glass": "Glass, heavy silicate flint",
      acrylic: "Lucite (PMMA)",
      aluminium: "Aluminum, rolled",
      iron: "Iron, Armco",
      copper: "Copper, annealed",
      "rolled-copper": "Copper, rolled",
      "mild-steel": "Steel, mild",
      "stainless-steel": "Steel, 347 stainless",
      "stainless-steel-410": "Stainless steel (410)",
      titanium: "Titanium",
      tungsten: "Tungsten, annealed",
      brass: "Brass",
      nylon: "Nylon 6-6",
      polyethylene: "Polyethylene",
    };
    const ofHandbook = materials.filter(({ elastic }) => elastic !== null && "shear" in elastic);
    expect(ofHandbook.map(({ name }) => name).sort()).toEqual(Object.keys(names).sort());
    for (const { name, elastic, elasticSource } of ofHandbook) {
      const rows = elasticSource.startsWith("ASTM") ? solids.astmE494 : solids.crc;
      const row = rows.find(({ material }) => material === names[name])!;
      expect(elastic).toEqual({ longitudinal: row.cL, shear: row.cT });
    }
  });

  it("holds what was read of cracks in lead-oxide glass and in thin strengthened glass", () => {
    const lead = glass.speeds.find(({ what }) => what.includes("lead-oxide"))!;
    expect(lead.verified).toBe(true);
    const { describes, crackSpeeds } = findMaterial("lead-oxide-glass");
    expect(describes).toContain(`${lead.cL_used} m/s`);
    expect(crackSpeeds).toMatchObject([
      { low: Number(lead.v) - Number(lead.u), high: Number(lead.v) + Number(lead.u), status: "read" },
    ]);
    const thin = glass.speeds.find(({ what }) => what.startsWith("thin strengthened"))!;
    expect(thin.verified).toBe(true);
    expect(crackShares).toMatchObject([{ shareOfRayleigh: thin.v_over_cR, status: "read" }]);
  });

  it("holds the published speeds of cracks in soda-lime glass, and says which were not read", () => {
    const { crackSpeeds } = findMaterial("soda-lime-glass");
    const drops = glass.speeds.find(({ what }) => what.startsWith("self-sustained"))!;
    expect(crackSpeeds[0]).toMatchObject({
      low: Number(drops.v) - Number(drops.u),
      high: Number(drops.v) + Number(drops.u),
      status: "read",
    });
    for (const { status, source } of crackSpeeds.slice(1)) {
      expect(status).toBe("memory");
      const author = source.split(" ")[2].replace(",", "");
      const row = glass.speeds.find((speed) => speed.source?.includes(author))!;
      expect(String(row.verified)).toMatch(/memory|partly/);
    }
  });
});

// Gatherer (1993) gives the bound for an edge of any shape; the table was summed for edges sampled at points.
describe("positionUncertainty", () => {
  it("lies between the bounds at the best and the worst phase, to 1 %, for edges of 0.5 px and wider", () => {
    const wide = edge.table.filter(({ sigma_b }) => sigma_b >= 0.5);
    expect(wide.length).toBeGreaterThan(5);
    for (const { sigma_b, discrete_min_over_phase, discrete_max_over_phase } of wide) {
      // Sampled at points: the pixel's own width of 1/12 px² is taken off.
      const edgeBlurPixels = Math.sqrt(sigma_b ** 2 - 1 / 12);
      const reading = {
        framesAcross: 3,
        pixelsPerFrame: 1,
        motionBlurPixels: 0,
        stepToNoise: 1,
        rowsAveraged: 1,
      };
      const variance = positionUncertainty({ ...reading, edgeBlurPixels }) ** 2;
      expect(variance).toBeGreaterThan(discrete_min_over_phase * 0.99);
      expect(variance).toBeLessThan(discrete_max_over_phase * 1.01);
    }
  });

  it("takes a smear of w px as w²/12 of variance, as published", () => {
    expect(photography.motionBlur.boxBlurVariance).toContain("L^2/12");
    const at = (edgeBlurPixels: number, motionBlurPixels: number) =>
      positionUncertainty({
        framesAcross: 3,
        pixelsPerFrame: 1,
        stepToNoise: 1,
        rowsAveraged: 1,
        edgeBlurPixels,
        motionBlurPixels,
      });
    expect(relative(at(2, Math.sqrt(12) * 1.5), at(2.5, 0))).toBeLessThan(1e-12);
  });
});

describe("mainsFlicker", () => {
  it("lamps flicker at twice the mains frequency, and a whole period of exposure shows none, as published", () => {
    expect(photography.flicker.statement).toContain("100 Hz at 50 Hz, 120 Hz at 60 Hz");
    expect(mainsFlicker(50, 1e5, 1e-6, 1e-3).lampHz).toBe(100);
    expect(mainsFlicker(60, 1e5, 1e-6, 1e-3).lampHz).toBe(120);
    expect(photography.flicker.statement).toContain("t_exp = k/(2 f_mains)");
    for (const k of [1, 2, 3])
      expect(mainsFlicker(50, 10, k / 100, 0.1).largestVariation).toBeLessThan(1e-12);
  });
});
