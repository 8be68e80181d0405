import { join } from "node:path";
import type { TakeResult } from "@frontpace/take";
import { describe, expect, it } from "vitest";
import { renderTake, TWO_FRONTS, temporaryFolder } from "../../take/test/render-take.js";
import { describeResult } from "../src/measure/describe-result.js";
import { exitCodeOf } from "../src/terminal/exit-code.js";
import { runCaptured } from "./capture.js";

/** Written by hand, not measured. */
const several: TakeResult = {
  format: "frontpace-result",
  version: 1,
  program: { name: "frontpace", version: "0" },
  status: "not-found",
  speed: null,
  lowerBound: null,
  front: null,
  fronts: [
    { speed: 50.12, standardUncertainty: 0.1, firstFrame: 3, lastFrame: 27, fromPixels: 1.4, toPixels: 61 },
    {
      speed: 42.3,
      standardUncertainty: 0.2,
      firstFrame: 12,
      lastFrame: 35,
      fromPixels: 62.6,
      toPixels: -0.4,
    },
  ],
  model: null,
  take: {
    name: "two",
    frames: 36,
    firstFrame: 0,
    lastFrame: 35,
    rows: 6,
    columns: 64,
    bitDepth: 8,
    rateHz: 1e5,
    rateUncertaintyHz: 0,
    exposureSeconds: null,
    metresPerPixel: 2e-4,
    metresPerPixelUncertainty: 0,
    path: [
      [0, 2.5],
      [63, 2.5],
    ],
    width: 6,
    polarity: null,
    frameStep: null,
    framesHash: "00",
  },
  notFound: { reason: "several-fronts", message: "along the path 2 fronts are seen" },
  warnings: [],
};

describe("several fronts on one path", async () => {
  const root = await temporaryFolder();

  it("are listed by number, with how to choose; there is no speed, and exit code 3", () => {
    const text = describeResult(several, []);
    expect(text).toMatch(/^front: 2 on the path, and none was chosen: choose one with --front, /m);
    expect(text).toMatch(
      /^ {2}1: 50\.1\d* m\/s \(u = 0\.1\d* m\/s\), from 1 px in frame 3 to 61 px in frame 27$/m,
    );
    expect(text).toMatch(
      /^ {2}2: 42\.3\d* m\/s \(u = 0\.2\d* m\/s\), from 63 px in frame 12 to 0 px in frame 35$/m,
    );
    expect(text).toMatch(/^speed: not measured/m);
    expect(exitCodeOf(several.status)).toBe(3);
  });

  it("--front 3 where there are two says which are there, and exits 3", async () => {
    const take = await renderTake(join(root, "two"), TWO_FRONTS);
    // 20 m/s for a pixel a frame: 50 m/s and 42 m/s
    const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0", "--path", "0,2.5:63,2.5", "--width", "6"];
    const { code, stdout } = await runCaptured(["measure", take, ...known, "--front", "3"]);
    expect(code).toBe(3);
    expect(stdout).toMatch(
      /^front: none found \(front-not-there\): front 3 was asked for, but .*2 fronts are seen/m,
    );
    const listed = [...stdout.matchAll(/^ {2}(\d): ([\d.]+) m\/s \(u = ([\d.]+) m\/s\), /gm)];
    expect(listed.map(([, number]) => number)).toEqual(["1", "2"]);
    [50, 42].forEach((speed, k) => {
      expect(Math.abs(Number(listed[k][2]) - speed)).toBeLessThan(5 * Number(listed[k][3]));
    });
  });
});
