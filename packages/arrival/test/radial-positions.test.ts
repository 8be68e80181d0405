import { erf } from "@frontpace/fit";
import { describe, expect, it } from "vitest";
import { randomFrom } from "../../../scripts/random.js";
import { radialPositions } from "../src/index.js";

const [frames, radii] = [70, 60];
const times = Array.from({ length: frames }, (_, k) => k);
/** Of a front that starts at 5.3 and slows to a tenth. */
const radiusAt = (time: number) => (time > 5.3 ? 9 * (time - 5.3) ** 0.45 : -99);
const arrivalAt = (radius: number) => 5.3 + (radius / 9) ** (1 / 0.45);

/** An invented streak in closed form, known beforehand to a third of a frame. */
function streakOf(kind: "stays" | "passes", height: number, light: (frame: number) => number, noise = 0) {
  const random = randomFrom(7);
  const share = (z: number) => (kind === "passes" ? Math.exp((-z * z) / 2) : 0.5 + 0.5 * erf(z / Math.SQRT2));
  const data = Float64Array.from({ length: frames * radii }, (_, i) => {
    const [k, r] = [Math.floor(i / radii), i % radii];
    const texture = 100 + 10 * Math.sin(r / 5);
    return light(k) * (texture + height * share((radiusAt(k) - r) / 1.7)) + noise * random.normal();
  });
  const arrival = Array.from({ length: radii }, (_, r) => arrivalAt(r) + 0.3 * Math.sin(r / 4));
  return { data, shape: [frames, radii] as const, times, arrival, kind };
}

describe("radialPositions", () => {
  it.each([
    ["passes", 60],
    ["passes", -40],
    ["stays", 50],
    ["stays", -30],
  ] as const)(
    "finds a front that %s, height %d, in every frame, however its speed changes",
    (kind, height) => {
      const found = radialPositions(streakOf(kind, height, () => 1));
      // Sixty frames show it inside; those near its ends lack half of the profile, and an edge its level after it.
      expect(found.length).toBeGreaterThan(35);
      for (const { index, position, blur } of found) {
        expect(Math.abs(position - radiusAt(times[index]))).toBeLessThan(1e-3);
        expect(Math.abs(blur - 1.7)).toBeLessThan(0.02);
      }
      // From soon after its start on: the last is ten times as late as the first.
      const since = found.map(({ index }) => times[index] - 5.3);
      expect(since[since.length - 1] / since[0]).toBeGreaterThan(10);
    },
  );

  it("divides the light of every frame out", () => {
    const flickering = streakOf("passes", 60, (k) => 1 + 0.1 * Math.sin(1.7 * k));
    for (const { index, position } of radialPositions(flickering))
      expect(Math.abs(position - radiusAt(times[index]))).toBeLessThan(0.05);
  });

  it("finds next to none where nothing runs, and refuses arrays that do not fit together", () => {
    const still = streakOf("passes", 0, () => 1, 1);
    for (const kind of ["passes", "stays"] as const)
      expect(radialPositions({ ...still, kind }).length).toBeLessThan(3);
    expect(() => radialPositions({ ...still, times: [1, 2] })).toThrow(RangeError);
  });
});
