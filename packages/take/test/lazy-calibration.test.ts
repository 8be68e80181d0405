import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { calibrateStills, measureTake } from "../src/index.js";
import { range, renderTake, temporaryFolder } from "./render-take.js";

vi.mock("@frontpace/calibration", () => {
  throw new Error("the calibration was loaded");
});

describe("the calibration", async () => {
  const folder = await renderTake(join(await temporaryFolder(), "tile"), {
    numbers: range(-4, 40),
    pixelsPerFrame: 2,
  });

  it("is not loaded where a take is measured with a bare scale", async () => {
    const { result } = await measureTake(folder, { rateHz: 1e5, metresPerPixel: 2e-4 });
    expect(result.status).toBe("measured");
  });

  it("is loaded where stills are calibrated", async () => {
    const still = join(folder, "0001.png");
    await expect(
      calibrateStills([still], { standard: { kind: "lengths", lengths: [] } }),
    ).rejects.toMatchObject({ cause: { message: "the calibration was loaded" } });
  });
});
