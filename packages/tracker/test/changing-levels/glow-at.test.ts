import { describe, expect, it } from "vitest";
import { type GlowForm, glowAt } from "../../src/changing-levels/glow-at.js";
import { edgeKernel } from "../../src/model/edge-profile.js";

const LOOKS = [
  { blurPixels: 1.3, smearPixels: 0 },
  { blurPixels: 0.7, smearPixels: 3.5 },
  { blurPixels: 2.5, smearPixels: 0.6 },
];

/** What is left of a glow so many lengths ahead of a front. */
const COVERED = {
  covered: (ahead: number) => Math.exp(-ahead),
  bell: (ahead: number) => Math.exp(-0.5 * ahead ** 2),
  tailed: (ahead: number) => (1 + ahead) ** -2,
  rounded: (ahead: number) => 1 / (1 + ahead ** 2),
};

/** Mean of a function over the box of an edge. */
function overBox(of: (behind: number) => number, behind: number, box: number): number {
  const steps = 400;
  let sum = 0;
  for (let k = 0; k < steps; k++) sum += of(behind + box * ((k + 0.5) / steps - 0.5));
  return sum / steps;
}

describe("glowAt", () => {
  for (const look of LOOKS)
    for (const length of [1.5, 12]) {
      const { box, sigma } = edgeKernel(look.blurPixels, look.smearPixels);
      const places = [-20, -6, -2, -0.4, 0, 0.3, 1.5, 4, 9];

      it(`is an exponential that ends at the front, blurred by ${sigma.toFixed(2)} and smeared by ${box} px, length ${length}`, () => {
        for (const place of places) {
          const blurred = (behind: number) => {
            let sum = 0;
            const step = sigma / 200;
            for (let d = -8 * sigma; d <= 8 * sigma; d += step)
              if (behind + d < 0) sum += step * Math.exp((behind + d) / length - 0.5 * (d / sigma) ** 2);
            return sum / (sigma * Math.sqrt(2 * Math.PI));
          };
          // steps of a 200th of the blur across the jump
          expect(Math.abs(glowAt(place, length, "ended", look) - overBox(blurred, place, box))).toBeLessThan(
            3e-3,
          );
        }
      });

      it.each(Object.entries(COVERED))(
        `is what an edge blurred by ${sigma.toFixed(2)}, smeared by ${box} px, covers of the form %s, length ${length}`,
        (form, left) => {
          for (const place of places) {
            const covered = (behind: number) =>
              (1 - normalDistribution(behind / sigma)) * left(Math.max(0, -behind) / length);
            const light = glowAt(place, length, form as GlowForm, look);
            expect(Math.abs(light - overBox(covered, place, box))).toBeLessThan(
              form === "covered" ? 1e-4 : 1e-2,
            );
            // away from the edge nothing is left open by its steps
            if (place < -8 * sigma - box)
              expect(Math.abs(light - overBox(covered, place, box))).toBeLessThan(1e-6);
          }
        },
      );
    }
});

/** By its integral, in a series: erf(x) = 2/√π Σ (−1)ⁿ x²ⁿ⁺¹ / (n! (2n + 1)), good to 1e-9 up to |z| of 5. */
function normalDistribution(z: number): number {
  if (Math.abs(z) > 5) return z > 0 ? 1 : 0;
  const x = z / Math.SQRT2;
  let term = x;
  let sum = x;
  for (let n = 1; n < 120; n++) {
    term *= (-x * x) / n;
    sum += term / (2 * n + 1);
  }
  return 0.5 + sum / Math.sqrt(Math.PI);
}
