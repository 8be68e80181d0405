import type { FrontShape, RigidFront } from "@frontpace/arrival";
import ndarray from "ndarray";
import { describe, expect, it } from "vitest";
import { formFrames } from "../../src/following/form-frames.js";
import { alongShape } from "../../src/following/front-in-plane.js";
import { inscribedBand } from "../../src/following/inscribed-band.js";
import { polarFrames } from "../../src/following/polar-frames.js";

const picture = { rows: 97, columns: 129 };

/** One frame of this brightness. */
function frameOf(brightness: (x: number, y: number) => number) {
  const { rows, columns } = picture;
  const data = Float32Array.from({ length: rows * columns }, (_, i) =>
    brightness(i % columns, Math.floor(i / columns)),
  );
  return {
    ...picture,
    numbers: [0],
    bitDepth: 32,
    async *frames() {
      yield { index: 0, number: 0, frame: ndarray(data, [rows, columns]) };
    },
  };
}

describe("inscribedBand", () => {
  it.each([0, 30, 45, 90, 120, -75])(
    "lies wholly in the picture at %i degrees, through its middle",
    (degrees) => {
      const angle = (degrees * Math.PI) / 180;
      const { path, width } = inscribedBand(picture, angle)!;
      const [[x1, y1], [x2, y2]] = path;
      expect(Math.abs((x1 + x2) / 2 - 64)).toBeLessThan(1e-9);
      expect(Math.abs((y1 + y2) / 2 - 48)).toBeLessThan(1e-9);
      const across = (width - 1) / 2;
      for (const [x, y] of path)
        for (const side of [-across, across]) {
          expect(x - side * Math.sin(angle)).toBeGreaterThan(-1e-9);
          expect(x - side * Math.sin(angle)).toBeLessThan(128 + 1e-9);
          expect(y + side * Math.cos(angle)).toBeGreaterThan(-1e-9);
          expect(y + side * Math.cos(angle)).toBeLessThan(96 + 1e-9);
        }
    },
  );

  it("is as long as the picture along its rows", () => {
    const { path, width } = inscribedBand(picture, 0)!;
    expect(path[1][0] - path[0][0]).toBe(128);
    expect(width).toBe(97);
  });
});

describe("polarFrames", () => {
  /** A picture of one frame. */
  it.each([
    [64, 48],
    [5, 40],
    [-60, 20],
  ])("reads along rays about %d, %d: a plane brightness is interpolated exactly", async (ox, oy) => {
    const along = polarFrames(
      frameOf((x, y) => 3 * x - 2 * y),
      [ox, oy],
    )!;
    const [[x1, y1], [x2, y2]] = along.ray;
    const { rows, columns } = along.source;
    // Read closer to the origin by as much as reading between pixels draws a circle in.
    const read = (x: number, y: number) => {
      const share = 1 - 1 / (12 * ((x - ox) ** 2 + (y - oy) ** 2));
      return 3 * (ox + share * (x - ox)) - 2 * (oy + share * (y - oy));
    };
    for await (const { frame } of along.source.frames()) {
      const middle = Math.floor(rows / 2);
      expect(Math.abs(frame.get(middle, 0) - read(x1, y1))).toBeLessThan(1e-3);
      expect(Math.abs(frame.get(middle, columns - 1) - read(x2, y2))).toBeLessThan(1e-3);
    }
    expect(Math.abs(Math.hypot(x2 - x1, y2 - y1) - (columns - 1))).toBeLessThan(1e-9);
  });

  it("shows rings at their radius: the mean of a cone over the rays is its height, near the origin, too", async () => {
    const origin = [66.3, 48.6] as const;
    const { source, ray } = polarFrames(
      frameOf((x, y) => Math.hypot(x - origin[0], y - origin[1])),
      origin,
    )!;
    const first = Math.hypot(ray[0][0] - origin[0], ray[0][1] - origin[1]);
    expect(Math.abs(first - 6)).toBeLessThan(1e-9);
    for await (const { frame } of source.frames())
      for (let c = 0; c < source.columns; c++) {
        let sum = 0;
        for (let r = 0; r < source.rows; r++) sum += frame.get(r, c);
        // Unless the blur of reading between pixels is undone it is 0.014 px more at 6 px, 0.002 px more at 40 px.
        expect(Math.abs(sum / source.rows - (first + c))).toBeLessThan(1e-3);
      }
  });

  it("shows rings as upright lines", async () => {
    const origin = [70, 40] as const;
    const { source } = polarFrames(
      frameOf((x, y) => Math.hypot(x - origin[0], y - origin[1])),
      origin,
    )!;
    for await (const { frame } of source.frames())
      for (let c = 0; c < source.columns; c += 7)
        for (let r = 0; r < source.rows; r += 11)
          // A cone is interpolated to 1/(8 r) px.
          expect(Math.abs(frame.get(r, c) - frame.get(0, c))).toBeLessThan(0.05);
  });

  it("shows the rings of an ellipse as upright lines, whose places are the geometric means of its half axes", async () => {
    const origin = [64, 48] as const;
    const oval = { ratio: 1.3, angleDegrees: 25 };
    const [c, s] = [Math.cos((25 * Math.PI) / 180), Math.sin((25 * Math.PI) / 180)];
    const mean = (x: number, y: number) => {
      const [dx, dy] = [x - origin[0], y - origin[1]];
      return Math.hypot((c * dx + s * dy) / Math.sqrt(1.3), (c * dy - s * dx) * Math.sqrt(1.3));
    };
    const { source, ray } = polarFrames(frameOf(mean), origin, { oval })!;
    const first = Math.hypot(ray[0][0] - origin[0], ray[0][1] - origin[1]);
    for await (const { frame } of source.frames())
      for (let column = 0; column < source.columns; column += 7)
        for (let row = 0; row < source.rows; row += 11)
          expect(Math.abs(frame.get(row, column) - (first + column))).toBeLessThan(0.25);
  });

  it("is null where no rays lie in the picture", () => {
    expect(
      polarFrames(
        frameOf(() => 0),
        [5000, 5000],
      ),
    ).toBeNull();
  });
});

/** A wave that runs in this direction. */
const running = (value: number, standardUncertainty: number) =>
  ({
    angleDegrees: { value, standardUncertainty },
    lagPixels: (across: number) => 6 * Math.sin(across / 9),
  }) as unknown as RigidFront;

describe("formFrames", () => {
  it.each([0, 35, -120])(
    "shows a wave that runs at %i degrees as an upright line, at its speed",
    async (degrees) => {
      const rigid = running(degrees, 0.01);
      const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
      const along = (x: number, y: number) => c * (x - 64) + s * (y - 48);
      const frames = frameOf((x, y) => along(x, y) + rigid.lagPixels(c * (y - 48) - s * (x - 64)));
      const { source, path } = formFrames(frames, rigid, null)!;
      for (const [x, y] of path) {
        expect(x).toBeGreaterThan(-1e-9);
        expect(x).toBeLessThan(128 + 1e-9);
        expect(y).toBeGreaterThan(-1e-9);
        expect(y).toBeLessThan(96 + 1e-9);
      }
      const length = Math.hypot(path[1][0] - path[0][0], path[1][1] - path[0][1]);
      expect(Math.abs(length - (source.columns - 1))).toBeLessThan(1e-9);
      for await (const { frame } of source.frames())
        for (let column = 0; column < source.columns; column += 7)
          for (let row = 0; row < source.rows; row += 5)
            // Between pixels a wave of this height is read as straight lines.
            expect(Math.abs(frame.get(row, column) - frame.get(row, 0) - column)).toBeLessThan(0.05);
      expect(formFrames(frames, rigid, 21)!.source.rows).toBeLessThan(22);
    },
  );
});

describe("alongShape", () => {
  /** A straight front by its angle; nothing else of it is looked at. */
  const straightAt = (
    value: number,
    standardUncertainty: number,
    ofSlowness = 0.0003,
    ownForm: object | null = null,
  ) =>
    ({
      shape: ownForm ? "none" : "straight",
      ownForm,
      straight: {
        slownessFramesPerPixel: { value: 0.5, standardUncertainty: ofSlowness },
        angleDegrees: { value, standardUncertainty },
      },
      circle: null,
    }) as unknown as FrontShape;
  const frames = { ...picture, numbers: [0], bitDepth: 8, async *frames() {} };
  const kindAt = (value: number, standardUncertainty: number) =>
    alongShape(straightAt(value, standardUncertainty), frames, { width: null, bends: false, rowTime: 0 })
      .kind;

  it.each([
    [4, 0.01, "path"],
    [-4, 3, "rows-or-columns"],
    [94, 3, "rows-or-columns"],
    [30, 3, "path"],
    [1.5, 0.01, "path"],
    [0.4, 0.01, "rows-or-columns"],
    [4, Number.POSITIVE_INFINITY, "rows-or-columns"],
  ])("follows a front at %d degrees, known to %d, along its %s", (angle, uncertainty, kind) => {
    expect(kindAt(angle, uncertainty)).toBe(kind);
  });

  it("follows a front whose speed changes, so that a mean one is not certain, along its direction where that is", () => {
    const kindOf = (ofAngle: number) =>
      alongShape(straightAt(30, ofAngle, 0.04), frames, { width: null, bends: false, rowTime: 0 }).kind;
    expect(kindOf(0.2)).toBe("path");
    expect(kindOf(1.2)).toBe("rows-or-columns");
  });

  it("follows along rows or columns what is no single front: the mean direction of two is that of neither", () => {
    const several = { ...straightAt(30, 2), shape: "none" } as FrontShape;
    expect(alongShape(several, frames, { width: null, bends: false, rowTime: 0 }).kind).toBe(
      "rows-or-columns",
    );
  });

  it("follows a front with a form of its own in its mean direction, where that is certain", () => {
    const alongOf = (ofAngle: number) =>
      alongShape(straightAt(30, ofAngle, 0.1, { rigid: null }), frames, {
        width: null,
        bends: false,
        rowTime: 0,
      });
    const along = alongOf(2);
    if (along.kind !== "path") throw new Error(`expected a path, got ${along.kind}`);
    const [[x1, y1], [x2, y2]] = along.path;
    expect(Math.abs((Math.atan2(y2 - y1, x2 - x1) * 180) / Math.PI - 30)).toBeLessThan(1e-9);
    expect(alongOf(8).kind).toBe("rows-or-columns");
  });

  it("follows one that moves as a whole in the direction in which it does, where that is certain", () => {
    const alongOf = (ofRun: number, known = {}) =>
      alongShape(straightAt(30, 2, 0.1, { rigid: running(12, ofRun) }), frames, {
        width: null,
        bends: false,
        rowTime: 0,
        ...known,
      }).kind;
    expect(alongOf(0.1)).toBe("form");
    expect(alongOf(3)).toBe("path");
    // Lengths are known along straight paths in the picture only, and rows that are read in turn move its parts apart.
    expect(alongOf(0.1, { bends: true })).toBe("path");
    expect(alongOf(0.1, { rowTime: 0.01 })).toBe("path");
  });

  it("follows a circle along its radius whether it opens or closes", () => {
    const circleOf = (value: number) =>
      ({
        shape: "circle",
        circle: { origin: [64, 48], slownessFramesPerPixel: { value, standardUncertainty: 0.0003 } },
      }) as unknown as FrontShape;
    for (const slowness of [0.5, -0.5])
      expect(alongShape(circleOf(slowness), frames, { width: null, bends: false, rowTime: 0.01 })).toEqual({
        kind: "radius",
        origin: [64, 48],
        pixelsPerRow: 0.01 / slowness,
      });
  });
});
