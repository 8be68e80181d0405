import { describe, expect, it } from "vitest";
import { checkAgainstFrames } from "../../src/settings/check-against-frames.js";
import { settle } from "../../src/settings/settle.js";
import type { TakeFile, TakeFrames } from "../../src/types.js";

const file: TakeFile = {
  format: "frontpace-take",
  version: 1,
  rateHz: 1e5,
  rateUncertaintyHz: 10,
  metresPerPixel: 2e-4,
  metresPerPixelUncertainty: 1e-6,
  width: 9,
};

describe("settle", () => {
  it("takes from the file what the options leave open", () => {
    const settings = settle({ width: 4 }, file);
    expect(settings).toMatchObject({ rateHz: { value: 1e5, standardUncertainty: 10 }, width: 4, path: null });
  });

  it("drops the file's uncertainty with the value it belonged to", () => {
    const settings = settle({ rateHz: 2e5, metresPerPixel: 1e-4, metresPerPixelUncertainty: 0 }, file);
    expect(settings.rateHz).toEqual({ value: 2e5 });
    expect(settings.metresPerPixel).toEqual({ value: 1e-4, standardUncertainty: 0 });
  });

  it("lets an option state the uncertainty of the file's value", () => {
    expect(settle({ rateUncertaintyHz: 20 }, file).rateHz).toEqual({ value: 1e5, standardUncertainty: 20 });
  });

  it.each([
    [{ metresPerPixel: 1 }, "rate-missing", "rateHz"],
    [{ rateHz: 1 }, "scale-missing", "metresPerPixel"],
  ])("says that %j is not enough", (options, code, key) => {
    expect(() => settle(options, null)).toThrow(expect.objectContaining({ code, fields: { key } }));
  });

  it("refuses an exposure longer than the interval, and takes one as long", () => {
    expect(() => settle({ exposureSeconds: 1.1e-5 }, file)).toThrow(
      "exposureSeconds must not be longer than the interval 1/rateHz = 0.00001 s, got 0.000011",
    );
    expect(settle({ rateHz: 3e5, exposureSeconds: 1 / 3e5 }, file).exposureSeconds).toBe(1 / 3e5);
  });

  it("refuses a light pulse longer than the exposure, or without one than the interval", () => {
    const pulse = (more: object) => settle({ lightPulseSeconds: 2e-6, ...more }, file).lightPulseSeconds;
    expect(pulse({ exposureSeconds: 2e-6 })).toBe(2e-6);
    expect(() => pulse({ exposureSeconds: 1.9e-6 })).toThrow(
      expect.objectContaining({
        code: "light-pulse-too-long",
        message:
          "lightPulseSeconds must not be longer than exposureSeconds (0.0000019), got 0.000002: check both units",
        fields: { key: "lightPulseSeconds", value: 2e-6 },
      }),
    );
    expect(pulse({})).toBe(2e-6);
    expect(() => pulse({ rateHz: 6e5 })).toThrow("longer than the interval 1/rateHz = 0.000001667 s");
  });

  it("lets options win over the file in what concerns files and light", () => {
    const noted: TakeFile = { ...file, skipBad: true, transfer: "srgb", lightPulseSeconds: 1e-6 };
    expect(settle({}, noted)).toMatchObject({ skipBad: true, transfer: "srgb", lightPulseSeconds: 1e-6 });
    const options = { skipBad: false, transfer: "linear", lightPulseSeconds: 2e-6 } as const;
    expect(settle(options, noted)).toMatchObject(options);
    expect(settle({}, file)).toMatchObject({ skipBad: false, transfer: null, lightPulseSeconds: null });
  });

  it("refuses a range that runs backwards, a path without length, an uncertainty beyond half the value", () => {
    expect(() => settle({ firstFrame: 5, lastFrame: 4 }, file)).toThrow("firstFrame must be <= lastFrame");
    const path: [[number, number], [number, number]] = [
      [3, 3],
      [3, 3],
    ];
    expect(() => settle({ path }, file)).toThrow(expect.objectContaining({ code: "path-empty" }));
    expect(() => settle({ metresPerPixelUncertainty: 1.1e-4 }, file)).toThrow("at most half");
  });
});

describe("checkAgainstFrames", () => {
  const frames = { numbers: [-2, -1, 0, 5, 6], rows: 20, columns: 100 } as unknown as TakeFrames;
  const check = (options: Parameters<typeof settle>[0]) => checkAgainstFrames(settle(options, file), frames);

  it("turns frame numbers into indexes", () => {
    expect(check({})).toEqual({ start: 0, end: 5 });
    expect(check({ firstFrame: -1, lastFrame: 5 })).toEqual({ start: 1, end: 4 });
    expect(check({ firstFrame: 3 })).toEqual({ start: 3, end: 5 });
  });

  it.each([{ firstFrame: -3 }, { lastFrame: 7 }, { firstFrame: 1, lastFrame: 4 }])(
    "refuses the range %j, which holds no frame or leaves the take",
    (options) => {
      expect(() => check(options)).toThrow(expect.objectContaining({ code: "frames-outside" }));
    },
  );

  it.each([
    [100, 5],
    [-0.1, 5],
    [5, 19.5],
    [5, -1],
  ])("refuses a path through %d,%d, outside a picture of 100 x 20 px", (x, y) => {
    const path: [[number, number], [number, number]] = [
      [10, 10],
      [x, y],
    ];
    expect(() => check({ path })).toThrow(expect.objectContaining({ code: "path-outside" }));
  });

  it("allows a width up to that of the picture across the path", () => {
    const path: [[number, number], [number, number]] = [
      [0, 10],
      [99, 10],
    ];
    expect(check({ path, width: 20 })).toEqual({ start: 0, end: 5 });
    expect(() => check({ path, width: 20.5 })).toThrow(
      "width must be at most the 20 rows of the picture across this path, got 20.5",
    );
    const upright: [[number, number], [number, number]] = [
      [10, 0],
      [10, 19],
    ];
    expect(() => check({ path: upright, width: 101 })).toThrow(
      "width must be at most the 100 columns of the picture across this path, got 101",
    );
    // (19 · 100 + 99 · 20) / hypot(99, 19) = 38.5
    const oblique: [[number, number], [number, number]] = [
      [0, 0],
      [99, 19],
    ];
    expect(() => check({ path: oblique, width: 39 })).toThrow(
      "width must be at most 38 px, as far as the 100 columns and 20 rows of the picture reach across this path",
    );
    expect(() => check({ width: 101 })).toThrow(
      expect.objectContaining({
        code: "width-outside",
        message:
          "width must be at most the 100 columns of the picture's longer side (no path is given), got 101",
      }),
    );
  });
});
