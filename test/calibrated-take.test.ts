import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { calibrateStills, type MeasureOptions, measureTake, type ScaleFile } from "@frontpace/take";
import sharp from "sharp";
import { afterAll, describe, expect, it } from "vitest";
import {
  type Crop,
  type ObliqueFront,
  renderObliqueTake,
} from "../scripts/calibration/render-oblique-take.js";
import { type Camera, project, renderTarget } from "../scripts/calibration/render-target.js";

const root = await mkdtemp(join(tmpdir(), "frontpace-calibrated-"));
afterAll(() => rm(root, { recursive: true }));

/** Turned by 35 degrees about the upright axis: the far end of the plane is seen at two thirds of the near end's scale. */
const oblique: Camera = {
  columns: 480,
  rows: 320,
  focalPixels: 900,
  axisPixels: [239.5, 159.5],
  k1: 0,
  k2: 0,
  turnDegrees: [0, 35, 0],
  place: [-0.05, -0.025, 0.3],
};
const bent: Camera = { ...oblique, k1: -0.35, k2: 0.1 };
const board = { kind: "corners", along: 9, across: 6, pitch: 0.01 } as const;
const look = { blur: 0.9, dark: 40, bright: 180, fall: 0.7, noise: 2, seed: 9 };

const rateHz = 100_000;
const front: ObliqueFront = { frames: 60, start: -0.005, step: 0.0016, blur: 4e-4, noise: 4, seed: 4 };
const speed = front.step * rateHz;
const whole: Crop = { row: 0, column: 0, rows: 320, columns: 480 };
/** The band about the path that a fast mode would record. */
const band: Crop = { row: 130, column: 60, rows: 48, columns: 380 };

async function calibrated(
  camera: Camera,
  name: string,
  lens: boolean,
): Promise<{ file: string; scale: ScaleFile }> {
  const stills: string[] = [];
  const poses = lens
    ? [camera, { ...camera, turnDegrees: [10, 0, 4] as const, place: [-0.043, -0.028, 0.24] as const }]
    : [camera];
  for (const [k, pose] of poses.entries()) {
    const file = join(root, `${name}-${k}.png`);
    const data = renderTarget(pose, board, look);
    await sharp(data, { raw: { width: pose.columns, height: pose.rows, channels: 1 } })
      .toColourspace("b-w")
      .png()
      .toFile(file);
    stills.push(file);
  }
  const { scale } = await calibrateStills(stills, {
    standard: {
      kind: "grid",
      pattern: { kind: "corners", along: 9, across: 6, pitchMetres: 0.01 },
      relativeStandardUncertainty: 5e-4,
    },
    lens,
  });
  const file = join(root, `${name}.json`);
  await writeFile(file, JSON.stringify(scale));
  return { file, scale };
}

/** The path from one place of the plane to another, in the crop. */
function pathIn(camera: Camera, crop: Crop): NonNullable<MeasureOptions["path"]> {
  const at = (x: number): [number, number] => {
    const [column, row] = project(camera, x, 0.024);
    return [column - crop.column, row - crop.row];
  };
  return [at(0), at(0.08)];
}

async function measured(camera: Camera, crop: Crop, options: MeasureOptions) {
  const frames = renderObliqueTake(camera, front, crop);
  const known = { rateHz, rateUncertaintyHz: 0, width: 9, polarity: "bright" as const };
  const { result, track, lineInPicture } = await measureTake(
    { frames },
    { ...known, path: pathIn(camera, crop), ...options },
  );
  if (result.status !== "measured") throw new Error(`${result.status}: ${result.notFound?.message}`);
  return { result, track, lineInPicture };
}

describe("a front in a plane seen obliquely", async () => {
  const { file, scale } = await calibrated(oblique, "plane", false);

  it("has its speed in the plane, within the interval, and within 0.3 %", async () => {
    const { result, track, lineInPicture } = await measured(oblique, whole, { calibration: file });
    const off = result.speed.value - speed;
    expect(Math.abs(off)).toBeLessThan(result.speed.expandedUncertainty);
    expect(Math.abs(off / speed)).toBeLessThan(0.003);
    expect(result.speed.complete).toBe(true);
    // An even run in the plane raises no alarm.
    expect(result.warnings.map(({ code }) => code)).not.toContain("speed-not-constant");
    // Positions in the track are metres in the plane from the path's first point.
    const middle = track.find(({ frame }) => frame === 30)!;
    expect(Math.abs(middle.positionMetres - (front.start + 30 * front.step))).toBeLessThan(3e-4);
    // The line is bent in the picture, and goes through the positions there.
    const seen = lineInPicture!.find(({ frame }) => frame === 30)!;
    expect(Math.abs(seen.positionPixels - middle.positionPixels)).toBeLessThan(1);
  });

  it("would have been wrong with a single scale, and the result says by how much", async () => {
    const plane = await measured(oblique, whole, { calibration: file });
    const single = await measured(oblique, whole, {
      metresPerPixel: scale.metresPerPixel,
      metresPerPixelUncertainty: 5e-4 * scale.metresPerPixel,
    });
    const { calibration, metresPerPixel } = plane.result.take;
    expect(calibration).toMatchObject({ planeMap: true, lens: false, method: "corners" });
    expect(calibration!.greatestMetresPerPixel / calibration!.leastMetresPerPixel).toBeGreaterThan(1.2);
    expect(Math.abs(calibration!.pathMetres - 0.08)).toBeLessThan(1e-4);
    expect(Math.abs(scale.metresPerPixel / metresPerPixel - 1 - calibration!.singleScaleError)).toBeLessThan(
      1e-12,
    );
    expect(single.result.warnings.map(({ code }) => code)).toContain("speed-not-constant");
  });

  it("has the parts of the scale, the plane's obliquity and nothing twice in its budget", async () => {
    const { result } = await measured(oblique, whole, { calibration: file });
    const sources = result.speed.budget.map(({ source }) => source);
    expect(sources).toEqual(
      expect.arrayContaining(["scale: length standard", "scale: pointing", "obliquity", "rate"]),
    );
    expect(sources).not.toContain("scale");
    const named = [...sources, ...result.speed.notEvaluated!.map(({ source }) => source)];
    expect(new Set(named).size).toBe(named.length);
    const standard = result.speed.budget.find(({ source }) => source === "scale: length standard");
    expect(Math.abs(standard!.relative! / 5e-4 - 1)).toBeLessThan(1e-9);
  });

  it("is refused in a crop without its place on the sensor, and measured with it", async () => {
    await expect(measured(oblique, band, { calibration: file })).rejects.toMatchObject({
      code: "calibration-other-size",
      message: expect.stringContaining("480 x 320 px, and the take has 380 x 48"),
    });
    const { result } = await measured(oblique, band, { calibration: file, sensorOffset: [60, 130] });
    expect(Math.abs(result.speed.value / speed - 1)).toBeLessThan(0.003);
    // Ten rows off the crop lies elsewhere in the plane, though its upright scale hardly varies there: columns matter.
    const elsewhere = await measured(oblique, band, { calibration: file, sensorOffset: [0, 130] });
    expect(Math.abs(elsewhere.result.speed.value / speed - 1)).toBeGreaterThan(0.02);
  });

  it("is not called tilted where it lies square to its path in the plane, however the picture shows it", async () => {
    const askew: Camera = { ...oblique, turnDegrees: [28, 30, 0] };
    const { file: its } = await calibrated(askew, "askew", false);
    const inPlane = (await measured(askew, whole, { calibration: its })).result;
    const inPicture = (await measured(askew, whole, { metresPerPixel: 1e-4 })).result;
    expect(Math.abs(inPicture.front!.tilt!.degrees)).toBeGreaterThan(5);
    expect(inPicture.warnings.map(({ code }) => code)).toContain("front-tilted");
    expect(Math.abs(inPlane.front!.tilt!.degrees)).toBeLessThan(4 * inPlane.front!.tilt!.standardUncertainty);
    expect(inPlane.warnings.map(({ code }) => code)).not.toContain("front-tilted");
  });

  it("is refused in another medium than the calibration's", async () => {
    await expect(measured(oblique, whole, { calibration: file, medium: "water" })).rejects.toMatchObject({
      code: "calibration-other-medium",
      message: expect.stringContaining("holds in air, and the event runs in water"),
    });
  });

  it("is measured through a lens that bends the picture, to 0.3 %, where the plane map alone is off", async () => {
    const through = await calibrated(bent, "lens", true);
    expect(through.scale.lens).toBeDefined();
    const { result } = await measured(bent, whole, { calibration: through.file });
    expect(Math.abs(result.speed.value - speed)).toBeLessThan(result.speed.expandedUncertainty);
    expect(Math.abs(result.speed.value / speed - 1)).toBeLessThan(0.003);
    expect(result.speed.budget.map(({ source }) => source)).toContain("lens");
    const alone = await calibrated(bent, "alone", false);
    expect(alone.scale.warnings.map(({ code }) => code)).toContain("grid-misfit");
    const without = (await measured(bent, whole, { calibration: alone.file })).result;
    expect(Math.abs(without.speed.value - speed)).toBeGreaterThan(Math.abs(result.speed.value - speed));
  }, 180_000);
});
