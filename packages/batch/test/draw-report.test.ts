import { describe, expect, it } from "vitest";
import { assembleResult } from "../../take/src/result/assemble-result.js";
import { withAir } from "../../take/src/result/with-air.js";
import { frames, settings, tracked } from "../../take/test/outcomes.js";
import { drawReport } from "../src/draw-report.js";

describe("drawReport", () => {
  const { result } = assembleResult(tracked, settings, frames);

  it("has the Mach number where the temperature of the air is known, with the source of the speed of sound", async () => {
    const inAir = withAir(result, { value: 288.15, standardUncertainty: 0.5 });
    const page = await drawReport(inAir, {});
    expect(page).toMatch(/Mach number: [0-9.]+/);
    // ISO 2533: 340.294 m/s at 288.15 K, half of 0.5 K in 288.15 K of it.
    expect(page).toMatch(/speed of sound 340\.29\d? ± 0\.30/);
    expect(page).toContain("ISO 2533");
  });

  it("has none where it is not", async () => {
    expect(await drawReport(result, {})).not.toContain("Mach number");
  });
});
