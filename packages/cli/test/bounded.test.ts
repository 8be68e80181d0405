import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { checkResult, type Measurement } from "@frontpace/take";
import { expect, it, vi } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { runCaptured } from "./capture.js";

const status = vi.hoisted(() => ({ crossed: null as unknown }));
vi.mock("@frontpace/take", async (original) => ({
  ...(await original<typeof import("@frontpace/take")>()),
  measureTake: async () => status.crossed,
}));

it("a front that crossed between two frames gives a bound, its streak and exit code 3, no track and no fit", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "fast"), { numbers: range(0, 1), pixelsPerFrame: 0 });
  const path: [[number, number], [number, number]] = [
    [0, 2],
    [9, 2],
  ];
  // A test double, written by hand: 10 positions, dark in frame 0 and bright in frame 1.
  const crossed: Measurement = {
    result: {
      format: "frontpace-result",
      version: 1,
      program: { name: "frontpace", version: "0" },
      status: "bounded",
      speed: null,
      lowerBound: {
        value: 1239.9,
        confidence: 0.95,
        complete: true,
        missing: [],
        lastFrameBefore: 0,
        firstFrameAfter: 1,
        lengthPixels: 95,
      },
      front: null,
      model: null,
      take: {
        name: "fast",
        frames: 2,
        firstFrame: 0,
        lastFrame: 1,
        rows: 16,
        columns: 96,
        bitDepth: 8,
        rateHz: 1e5,
        rateUncertaintyHz: 0,
        exposureSeconds: null,
        metresPerPixel: 2e-4,
        metresPerPixelUncertainty: 0,
        calibration: {
          method: "corners",
          planeMap: true,
          lens: false,
          pathMetres: 0.019,
          leastMetresPerPixel: 1.9e-4,
          greatestMetresPerPixel: 2.1e-4,
          singleScaleError: 0.03,
          assumed: ["the lens does not bend the picture"],
          medium: "air",
        },
        path,
        width: 5,
        polarity: null,
        frameStep: null,
        framesHash: "00",
      },
      notFound: null,
      warnings: [{ code: "invented", message: "a warning" }],
    },
    cracks: null,
    arrival: null,
    tips: [],
    track: [],
    course: null,
    lineInPicture: null,
    line: null,
    search: null,
    eventPictures: [],
    streak: {
      data: Float64Array.from({ length: 20 }, (_, i) => (i < 10 ? 50 : 170)),
      shape: [2, 10],
      frameNumbers: [0, 1],
      path,
      width: 5,
      effectiveRows: null,
    },
  };
  status.crossed = crossed;
  const { code, stdout, stderr } = await runCaptured(["measure", take, "--rate", "1k", "--scale", "1mm"]);
  expect(code).toBe(3);
  expect(stdout).toContain("speed: at least 1230 m/s (95 % confidence)");
  expect(stdout).toContain(
    "scale: 0.2 mm a pixel on average along the path, 0.19 mm to 0.21 mm; the single scale of the calibration would be wrong by +3.0 % on the whole path",
  );
  expect(stdout).toContain("assuming that the lens does not bend the picture");
  expect(stdout).toContain("Not for legal or safety certification");
  expect(stderr).toBe("warning: invented: a warning\n");
  expect((await readdir(join(root, "fast-frontpace"))).sort()).toEqual([
    "report.html",
    "result.json",
    "streak-samples.png",
    "streak.png",
  ]);
  const quiet = await runCaptured(["measure", take, "--rate", "1k", "--scale", "1mm", "--quiet"]);
  expect(quiet.code).toBe(3);
  expect(quiet.stdout).not.toContain("Not for legal or safety certification");
  expect(await checkResult(crossed.result)).toEqual(crossed.result);
});
