import { describe, expect, it } from "vitest";
import { type EdgeForm, sampleProfile } from "../../src/model/edge-profile.js";

const logistic = (z: number) => 1 / (1 + Math.exp((-Math.PI * z) / Math.sqrt(3)));
const laplace = (z: number) => (z < 0 ? 0.5 * Math.exp(Math.SQRT2 * z) : 1 - 0.5 * Math.exp(-Math.SQRT2 * z));

const disc = (z: number) =>
  z <= -2 ? 0 : z >= 2 ? 1 : 0.5 + ((z / 2) * Math.sqrt(1 - (z * z) / 4) + Math.asin(z / 2)) / Math.PI;

const ramp = (z: number) => Math.max(0, Math.min(1, 0.5 + z / Math.sqrt(12)));

/** px; a pixel and a smear of 2 px are nothing beside it. */
const BLUR = 400;

function sampled(behind: number, blur: number, form: EdgeForm) {
  const into = { value: 0, byDistance: 0, byLogBlur: 0 };
  sampleProfile("step", behind, blur, 2, into, form);
  return into;
}

describe("sampleProfile", () => {
  it("a pair is the slope of a pulse: a line of 1 a standard deviation ahead, and one of -1 as far behind", () => {
    const into = { value: 0, byDistance: 0, byLogBlur: 0 };
    for (let z = -4; z <= 4; z += 0.25) {
      sampleProfile("pair", z * BLUR, BLUR, 2, into);
      expect(Math.abs(into.value + z * Math.exp((1 - z * z) / 2))).toBeLessThan(1e-4);
    }
  });
  it.each([
    ["logistic", logistic, 1e-4],
    ["laplace", laplace, 3e-3],
    ["disc", disc, 9e-3],
    ["ramp", ramp, 1e-3],
  ] as const)("a %s edge of standard deviation 1 is what it is called", (form, distribution, within) => {
    for (let z = -4; z <= 4; z += 0.25)
      expect(Math.abs(sampled(z * BLUR, BLUR, form).value - distribution(z))).toBeLessThan(within);
  });
  it.each([0.4, 2.5])("derivatives of a pair of blur %f px are those of its value", (blur) => {
    const pair = (behind: number, width: number) => {
      const into = { value: 0, byDistance: 0, byLogBlur: 0 };
      sampleProfile("pair", behind, width, 2, into);
      return into;
    };
    const h = 1e-4;
    for (const behind of [-7, -2, 0, 0.6, 3]) {
      const { byDistance, byLogBlur } = pair(behind, blur);
      const along = pair(behind + h, blur).value - pair(behind - h, blur).value;
      const wider = pair(behind, blur * Math.exp(h)).value - pair(behind, blur * Math.exp(-h)).value;
      expect(Math.abs(byDistance - along / (2 * h))).toBeLessThan(1e-6);
      expect(Math.abs(byLogBlur - wider / (2 * h))).toBeLessThan(1e-6);
    }
  });
  it.each(["gaussian", "logistic", "laplace", "disc", "ramp"] as const)(
    "derivatives of a %s edge are those of its value",
    (form) => {
      const h = 1e-4;
      for (const behind of [-7, -2, 0, 0.6, 3, 11]) {
        const { byDistance, byLogBlur } = sampled(behind, 2.5, form);
        const along = sampled(behind + h, 2.5, form).value - sampled(behind - h, 2.5, form).value;
        const wider =
          sampled(behind, 2.5 * Math.exp(h), form).value - sampled(behind, 2.5 * Math.exp(-h), form).value;
        expect(Math.abs(byDistance - along / (2 * h))).toBeLessThan(1e-7);
        expect(Math.abs(byLogBlur - wider / (2 * h))).toBeLessThan(1e-7);
      }
    },
  );
});
