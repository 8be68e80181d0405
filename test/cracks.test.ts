import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Point } from "@frontpace/cracks";
import { calibrateStills, type MeasureOptions, measureTake, type TakeFrames } from "@frontpace/take";
import sharp from "sharp";
import { afterAll, describe, expect, it } from "vitest";
import {
  type CrackScene,
  courseOf,
  lengthOf,
  renderCracks,
} from "../scripts/accuracy/cracks/render-cracks.js";

/** Invented: 1 mm a pixel, 100,000 frames a second, exactly; so that 1 px a frame is 100 m/s. */
const exact = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 1e-3, metresPerPixelUncertainty: 0 };
const picture = { rows: 100, columns: 160, count: 45, depth: -40, noise: 2 };

function measure(cracks: CrackScene["cracks"], options: MeasureOptions = {}, depth = picture.depth) {
  const rendered = renderCracks({ ...picture, depth, cracks });
  const frames: TakeFrames = {
    ...rendered,
    name: "tile",
    bitDepth: 8,
    async *frames(range, region) {
      for await (const read of rendered.frames(range)) {
        const { row, column, rows, columns } = region ?? { row: 0, column: 0, ...picture };
        yield { ...read, frame: read.frame.hi(row + rows, column + columns).lo(row, column) };
      }
    },
  };
  const { metresPerPixel, metresPerPixelUncertainty, ...rate } = exact;
  const scale = options.calibration ? {} : { metresPerPixel, metresPerPixelUncertainty };
  return measureTake({ frames }, { ...rate, ...scale, ...options });
}

const stem = courseOf((s): Point => [12 + 60 * s, 50]);
const arm = (slope: number) => courseOf((s): Point => [72 + 75 * s, 50 + 75 * slope * s]);
const stemSpeed = 4;
const armSpeed = 5;
const parts = 5 + lengthOf(stem) / stemSpeed;
const branched = [
  { course: stem, length: (time: number) => stemSpeed * (time - 5) },
  { course: arm(0.45), length: (time: number) => armSpeed * (time - parts) },
  { course: arm(-0.5), length: (time: number) => armSpeed * (time - parts) },
];

describe("a take of thin cracks without a path", () => {
  it("measures a slanting crack along its own course, not along the rows", async () => {
    const course = courseOf((s): Point => [15 + 125 * s, 20 + 60 * s]);
    const { result, tips } = await measure([{ course, length: (time) => 3.6 * (time - 4) }]);
    expect(result.status).toBe("measured");
    const { value, expandedUncertainty } = result.speed!;
    expect(Math.abs(value - 360)).toBeLessThan(2 * expandedUncertainty);
    expect(Math.abs(value / 360 - 1)).toBeLessThan(0.005);
    expect(result.branches).toHaveLength(1);
    for (const { x, y, used } of tips)
      if (used) expect(Math.abs(y - (20 + (60 * (x - 15)) / 125))).toBeLessThan(0.5);
  });

  it("gives every branch its speed and its parent, and the take none", async () => {
    const { result } = await measure(branched);
    expect(result.status).toBe("not-found");
    expect(result.notFound?.reason).toBe("several-fronts");
    const branches = result.branches!;
    expect(branches.map(({ parent }) => parent)).toEqual([null, 1, 1]);
    for (const [k, speed] of [400, 500, 500].entries())
      expect(Math.abs(branches[k].speed! / speed - 1)).toBeLessThan(0.01);
  });

  it("says that it cannot where cracks stand out by less than three times the noise of a pixel, and follows them above", async () => {
    for (const options of [{}, { front: 1 }]) {
      const { result, tips } = await measure(branched, options, -2.5 * picture.noise);
      expect(result.status).toBe("not-found");
      expect(result.notFound?.reason).toBe("cracks-too-faint");
      expect(result.notFound?.message).toMatch(/^3 thin cracks are seen .* by 2\.[3-6] times the noise/);
      expect(result.speed).toBeNull();
      expect(result.branches).toBeUndefined();
      expect(tips).toHaveLength(0);
    }
    const { result } = await measure(branched, {}, -3.5 * picture.noise);
    expect(result.branches).toHaveLength(3);
  });

  it("measures the branch that was asked for", async () => {
    const { result } = await measure(branched, { front: 1 });
    expect(result.status).toBe("measured");
    expect(Math.abs(result.speed!.value / 400 - 1)).toBeLessThan(0.01);
    // Tips run to the right, in whichever order the pixels of a branch were read.
    for (const front of [1, 2, 3]) {
      const chosen = await measure(branched, { front });
      expect(chosen.result.front!.direction[0]).toBeGreaterThan(0.8);
    }
    const none = await measure(branched, { front: 7 });
    expect(none.result.notFound?.reason).toBe("front-not-there");
  });
});

describe("thin cracks under a calibration", async () => {
  const root = await mkdtemp(join(tmpdir(), "frontpace-cracks-"));
  afterAll(() => rm(root, { recursive: true }));
  const still = join(root, "still.png");
  const { rows, columns } = picture;
  await sharp(Buffer.alloc(rows * columns, 90), { raw: { width: columns, height: rows, channels: 1 } })
    .png()
    .toFile(still);
  const fileOf = async (name: string, standard: Parameters<typeof calibrateStills>[1]["standard"]) => {
    const { scale } = await calibrateStills([still], { standard, pointingPixels: 0.1 });
    const file = join(root, name);
    await writeFile(file, JSON.stringify(scale));
    return file;
  };
  /** Seen from the side: a pixel down is half as long as one to the right, 1 mm; no perspective. */
  const plane = await fileOf("plane.json", {
    kind: "points",
    relativeStandardUncertainty: 0,
    points: [
      { pixel: [5, 5], plane: [0.005, 0.0025] },
      { pixel: [155, 5], plane: [0.155, 0.0025] },
      { pixel: [155, 95], plane: [0.155, 0.0475] },
      { pixel: [5, 95], plane: [0.005, 0.0475] },
    ],
  });
  const single = await fileOf("single.json", {
    kind: "lengths",
    lengths: [
      {
        length: { value: 0.1, standardUncertainty: 0 },
        between: [
          [10, 50],
          [110, 50],
        ],
      },
    ],
  });
  const slanting = courseOf((s): Point => [15 + 125 * s, 20 + 60 * s]);
  const straight = [{ course: slanting, length: (time: number) => 3.6 * (time - 4) }];

  it("a plane map: a straight one has its speed in the plane, along its own way", async () => {
    const { result } = await measure(straight, { calibration: plane });
    expect(result.status).toBe("measured");
    const truth = (360 * Math.hypot(125, 30)) / Math.hypot(125, 60);
    expect(Math.abs(result.speed!.value / truth - 1)).toBeLessThan(0.01);
    expect(result.branches).toBeUndefined();
  });

  it("a plane map: branches have no number, and what to do is said", async () => {
    const { result, tips, cracks } = await measure(branched, { calibration: plane });
    expect(result.status).toBe("not-found");
    expect(result.notFound?.reason).toBe("cracks-off-path");
    expect(result.notFound?.message).toContain("3 cracks are seen");
    expect(result.notFound?.message).toContain("--path");
    expect(tips).toEqual([]);
    expect(cracks).toBeNull();
  });

  it("a scale that is the same everywhere: each is followed along its course", async () => {
    const { result } = await measure(straight, { calibration: single });
    expect(Math.abs(result.speed!.value / 360 - 1)).toBeLessThan(0.005);
    expect(result.branches).toHaveLength(1);
  });
});
