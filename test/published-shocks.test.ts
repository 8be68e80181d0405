import {
  limbExcess,
  machFromHalfAngle,
  machNumber,
  normalShock,
  type PointExplosion,
  pointExplosionEnergy,
  radiusFromLimb,
  soundSpeed,
} from "@frontpace/planner";
import { describe, expect, it } from "vitest";
import { expectPrinted, expectRelative } from "../packages/fit/test/support/expect-close.js";
import shocks from "./published/shock-relations.json" with { type: "json" };
import fireball from "./published/taylor-1950-trinity.json" with { type: "json" };

const exactly = (value: number) => ({ value, standardUncertainty: 0 });

describe("the speed of sound in dry air", () => {
  it("is that of ISO 2533 at its two printed temperatures, 340.294 and 295.069 m/s, to the printed digits", () => {
    expect(shocks.isa.table).toHaveLength(2);
    for (const { T, c } of shocks.isa.table) expectPrinted(soundSpeed(exactly(T)).value, c, 3);
    expectRelative(soundSpeed(exactly(288.15)).value, Number(shocks.isa.c_computed), 1e-11);
  });

  it("is unsure by half of what the temperature is, relative", () => {
    const { value, standardUncertainty } = soundSpeed({ value: 300, standardUncertainty: 3 });
    expectRelative(standardUncertainty / value, 0.005, 1e-12);
  });

  it("gives a Mach number with both uncertainties in quadrature", () => {
    const mach = machNumber(
      { value: 680, standardUncertainty: 6.8 },
      { value: 340, standardUncertainty: 2.55 },
    );
    expect(mach.value).toBe(2);
    expectRelative(mach.standardUncertainty, 2 * Math.hypot(0.01, 0.0075), 1e-12);
  });
});

describe("normalShock", () => {
  it("reproduces the rows of NACA Report 1135 for Mach 2 and 3 to the unit of their last digit", () => {
    expect(shocks.naca1135Quoted).toHaveLength(2);
    for (const row of shocks.naca1135Quoted) {
      const shock = normalShock(row.M1);
      expectPrinted(shock.pressureRatio, row["p2/p1"], 3);
      expectPrinted(shock.densityRatio, row["rho2/rho1"], 3);
      // 1.6875 is printed 1.687
      expect(Math.abs(shock.temperatureRatio - row["T2/T1"])).toBeLessThan(0.00051);
      expectPrinted(shock.machBehind, row.M2, 3);
    }
  });

  it("agrees with exact fractions at ten Mach numbers, and machFromHalfAngle with their Mach angles, to 1e-14", () => {
    expect(shocks.exact).toHaveLength(10);
    for (const { M1, decimal } of shocks.exact) {
      const shock = normalShock(M1);
      expectRelative(shock.pressureRatio, decimal["p2/p1"], 1e-14);
      expectRelative(shock.densityRatio, decimal["rho2/rho1"], 1e-14);
      expectRelative(shock.temperatureRatio, decimal["T2/T1"], 1e-14);
      expectRelative(shock.machBehind, decimal.M2, 1e-14);
      expectRelative(machFromHalfAngle(decimal.machAngleDeg).value, M1, 1e-14);
    }
  });

  it("has the slope of the Mach angle in its uncertainty, and refuses a Mach number below 1", () => {
    const step = 1e-4;
    const slope = (machFromHalfAngle(30 - step).value - machFromHalfAngle(30 + step).value) / (2 * step);
    expectRelative(machFromHalfAngle(30, 0.5).standardUncertainty, 0.5 * slope, 1e-8);
    expect(() => normalShock(0.9)).toThrow("mach must be finite and >= 1, got 0.9");
    expect(() => machFromHalfAngle(91)).toThrow("halfAngleDegrees must be > 0 and <= 90, got 91");
  });
});

// G. I. Taylor, Proc. R. Soc. Lond. A 201 (1950) 175: R⁵t⁻² = 6.67e23 cm⁵/s², air of 1.25e-3 g/cm³, K = 0.856.
describe("pointExplosionEnergy", () => {
  const { published, sedovConstants } = fireball;
  const printed: PointExplosion = {
    exponent: { value: 0.398, standardUncertainty: 0.004, coverageFactor: 2.1 },
    leastMachNumber: 6,
    leastRadius: 20,
    sourceRadius: 1,
    radius: { value: (published["R5t-2_cgs"] * 1e-10) ** 0.2, standardUncertainty: 0 },
    time: 1,
    density: 1e3 * published.rho0_g_cm3,
    alpha: published["K_gamma1.4"],
  };

  it("gives Taylor's energy from his constants, 7.14e20 erg, to the digits he printed", () => {
    const energy = pointExplosionEnergy(printed);
    if (energy.status !== "given") throw new Error(energy.reason);
    expectPrinted((energy.energyJoules.value * 1e7) / 1e20, published["E_erg_gamma1.4"] / 1e20, 2);
  });

  it("takes the constant of the exact solution where none is given, and five times the radius's uncertainty", () => {
    const { alpha: _, ...withoutAlpha } = printed;
    const energy = pointExplosionEnergy({
      ...withoutAlpha,
      radius: { value: 2, standardUncertainty: 0.02 },
      time: 4,
      density: 1.2,
    });
    if (energy.status !== "given") throw new Error(energy.reason);
    expectRelative(energy.energyJoules.value, sedovConstants.alpha["1.4"] * 1.2 * 2, 1e-6);
    expectRelative(energy.energyJoules.standardUncertainty / energy.energyJoules.value, 0.05, 1e-12);
  });

  it.each([
    ["exponent", { exponent: { value: 0.42, standardUncertainty: 0.004, coverageFactor: 2.1 } }, "2/5"],
    ["Mach number", { leastMachNumber: 5 }, "must stay above 5"],
    ["source's size", { sourceRadius: 2.1 }, "at least 10 times"],
  ])("gives none where the %s is not that of a strong point explosion, and says so", (_, change, reason) => {
    const energy = pointExplosionEnergy({ ...printed, ...change });
    expect(energy).toEqual({ status: "not-given", reason: expect.stringContaining(reason) });
  });

  it("says joules and nothing else: no mass, equivalent, pressure or distance", () => {
    expect(Object.keys(pointExplosionEnergy(printed))).toEqual(["status", "energyJoules"]);
  });
});

describe("the limb of a sphere", () => {
  it("is seen beyond its radius by (R/Z)²/2, to the next order, and is corrected exactly", () => {
    for (const share of [0.01, 0.05, 0.1, 0.3]) {
      expectRelative(limbExcess(share, 1), share ** 2 / 2, share ** 2);
      expectRelative(radiusFromLimb(share * (1 + limbExcess(share, 1)), 1), share, 1e-14);
    }
    expect(() => limbExcess(2, 1)).toThrow("distance must be finite and > radius, 2, got 1");
  });
});
