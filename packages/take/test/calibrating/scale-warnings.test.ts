import { expect, it } from "vitest";
import { scaleWarnings } from "../../src/calibrating/scale-warnings.js";

const monteCarlo = {
  standardUncertainty: 1e-7,
  trials: 10_000,
  agrees: true,
  mean: 1e-4,
  interval: [9e-5, 1.1e-4] as const,
};
const misfitOf = (rmsPixels: number, hasLens: boolean) =>
  scaleWarnings({
    isPointingAssumed: false,
    monteCarlo,
    residual: { rmsPixels, expectedPixels: 0.00345, hasLens },
  });

it("says of a grid that does not fit what was seen, what would be expected, and what to do", () => {
  const [{ code, message }] = misfitOf(0.0712, false);
  expect(code).toBe("grid-misfit");
  expect(message).toContain("stand 0.071 px (rms) from where a flat, even grid would show them");
  expect(message).toMatch(/how well each is found explains 0\.003[45] px/);
  expect(message).toContain("--lens, focus on the whole grid, and fasten it to something flat");
});

it("does not advise --lens where the lens was found, and says nothing of a grid that fits", () => {
  expect(misfitOf(0.0712, true)[0].message).not.toContain("--lens");
  expect(misfitOf(0.0068, false)).toEqual([]);
});
