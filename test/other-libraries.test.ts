import { readFile } from "node:fs/promises";
import { arrivalMap, frontShape } from "@frontpace/arrival";
import { crackNetwork } from "@frontpace/cracks";
import { openFrames } from "@frontpace/frame-loader";
import { measureTake } from "@frontpace/take";
import { describe, expect, it } from "vitest";

/** What scikit-image and OpenCV find in the takes of this folder, with their versions: scripts/make-plane-fixtures.py. */
const folder = new URL("other-libraries/", import.meta.url);
const { circle, ellipse, crack, madeWith } = JSON.parse(
  await readFile(new URL("expected.json", folder), "utf8"),
);

async function inTake<T>(
  name: string,
  work: (frames: Awaited<ReturnType<typeof openFrames>>) => Promise<T>,
): Promise<T> {
  const frames = await openFrames(new URL(`${name}.npy`, folder).pathname);
  try {
    return await work(frames);
  } finally {
    await frames.close();
  }
}

const shapeIn = (name: string) => inTake(name, async (frames) => frontShape(await arrivalMap(frames)));

describe("on the same renders", () => {
  const shape = shapeIn("circle");

  it.each(["scikit-image", "opencv"])(
    `a circle has the origin and speed that %s finds (${JSON.stringify(madeWith)})`,
    async (library) => {
      const found = (await shape).circle!;
      const theirs = circle[library];
      for (const k of [0, 1]) {
        const u = Math.hypot(theirs.originError[k], found.originUncertainty![k].standardUncertainty);
        expect(Math.abs(found.origin[k] - theirs.origin[k])).toBeLessThan(3 * u);
        // Not by an uncertainty that is large: the bar of the accuracy table is 0.05 px.
        expect(3 * u).toBeLessThan(0.05);
      }
      const { value, standardUncertainty } = found.speedPixelsPerFrame;
      const u = Math.hypot(theirs.speedError, standardUncertainty);
      expect(Math.abs(value - theirs.speed)).toBeLessThan(3 * u);
      expect((3 * u) / value).toBeLessThan(2e-3);
    },
  );

  it("the axes of an ellipse have the ratio and the direction that OpenCV finds, and differ; those of a circle do not", async () => {
    const { axes } = await shapeIn("ellipse");
    const u = Math.hypot(ellipse.opencv.ratioError, axes!.ratio.standardUncertainty);
    expect(Math.abs(axes!.ratio.value - ellipse.opencv.ratio)).toBeLessThan(3 * u);
    expect(3 * u).toBeLessThan(0.006);
    expect(Math.abs(axes!.angleDegrees - ellipse.opencv.angleDegrees)).toBeLessThan(0.5);
    expect(axes!.differ).toBe(true);
    expect((await shape).axes!.differ).toBe(false);
  });

  it("an ellipse is measured by rays that are read as its axes are, and the speeds along them are those that went in", async () => {
    const exact = { rateHz: 1, rateUncertaintyHz: 0, metresPerPixel: 1, metresPerPixelUncertainty: 0 };
    const { result } = await inTake("ellipse", (frames) => measureTake({ frames }, exact));
    // The half axes grow by 2.4 and 2 px a frame.
    const truth = Math.sqrt(2.4 * 2);
    const { value, expandedUncertainty } = result.speed!;
    expect(Math.abs(value - truth)).toBeLessThan(expandedUncertainty);
    expect(expandedUncertainty).toBeLessThan(0.01 * truth);
    expect(result.warnings.map(({ code }) => code)).toContain("speed-differs-by-direction");
    const { event } = result;
    // A front that is drawn is as much longer than wide.
    const [{ points }] = event!.find(({ moment }) => moment === "middle")!.fronts;
    const reach = points!.map(([x, y]) => Math.hypot(x - circle.origin[0], y - circle.origin[1]));
    expect(Math.abs(Math.max(...reach) / Math.min(...reach) - 1.2)).toBeLessThan(0.02);
  });

  it("a crack's course runs along scikit-image's skeleton, and is as long as a smoothing spline through it, shorter than its chain of pixels", async () => {
    const network = await inTake("crack", (frames) => crackNetwork(frames, { start: 0, end: 24 }));
    expect(network!.lines).toHaveLength(1);
    const { points } = network!.lines[0];
    const [from, to] = crack.between;
    const inner = points.filter(([x]) => x >= from && x <= to);
    const farthest = Math.max(
      ...inner.map(([x, y]) =>
        Math.min(...crack.pixels.map(([px, py]: [number, number]) => Math.hypot(px - x, py - y))),
      ),
    );
    // A pixel of the skeleton lies up to half a diagonal beside the line that it stands for, and half a step away along it.
    expect(farthest).toBeLessThan(1);
    // Between the two columns, of a course whose points stand a pixel of its length apart.
    const lengthTo = (column: number) => {
      const k = points.findIndex(([x], i) => (x - column) * (points[i + 1][0] - column) <= 0);
      return k + (column - points[k][0]) / (points[k + 1][0] - points[k][0]);
    };
    const length = Math.abs(lengthTo(to) - lengthTo(from));
    expect(Math.abs(length / crack.splineLength - 1)).toBeLessThan(0.005);
    expect(Math.abs(length / crack.trueLength - 1)).toBeLessThan(0.003);
    expect(crack.chainLength / length).toBeGreaterThan(1.02);
  });
});
