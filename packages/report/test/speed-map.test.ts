import { describe, expect, it } from "vitest";
import { type Rgb, scaleColour } from "../src/drawing/colour-scale.js";
import { EMPTY_COLOURS } from "../src/drawing/hatching.js";
import { letterPen } from "../src/drawing/letter-pen.js";
import { drawSpeedMap } from "../src/index.js";
import { drawKey, paintSpeeds, speedDomain } from "../src/maps/draw-speed-map.js";

/** Linear light of an 8-bit sRGB value. @see IEC 61966-2-1:1999 */
const linear = (value: number) => {
  const v = value / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};

/** CIELAB with white D65. @see ISO/CIE 11664-4, L* = 116 f(Y/Yn) − 16; the matrix is that of IEC 61966-2-1 */
function lab([r, g, b]: Rgb): [number, number, number] {
  const f = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const [lr, lg, lb] = [linear(r), linear(g), linear(b)];
  const x = f((0.4124 * lr + 0.3576 * lg + 0.1805 * lb) / 0.9505);
  const y = f(0.2126 * lr + 0.7152 * lg + 0.0722 * lb);
  const z = f((0.0193 * lr + 0.1192 * lg + 0.9505 * lb) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const rises = (values: readonly number[]) => values.every((value, k) => k === 0 || value > values[k - 1]);

describe("scaleColour", () => {
  const colours = Array.from({ length: 65 }, (_, k) => lab(scaleColour(k / 64)));

  it("rises in lightness L* all the way, from 22 to 92", () => {
    const lightness = colours.map(([l]) => l);
    expect(rises(lightness)).toBe(true);
    // 8 bits tell half a step, 0.5 of L* in the dark.
    expect(Math.abs(lightness[0] - 22)).toBeLessThan(0.5);
    expect(Math.abs(lightness[64] - 92)).toBeLessThan(0.5);
  });

  it("goes from blue to yellow (b*) all the way, which eyes without red or green see as others do", () => {
    expect(rises(colours.map(([, , b]) => b))).toBe(true);
  });

  it("takes equal steps in the CIE colour difference of 1976, to the rounding to 8 bits", () => {
    const eighths = Array.from({ length: 9 }, (_, k) => lab(scaleColour(k / 8)));
    const steps = eighths.slice(1).map((c, k) => Math.hypot(...c.map((v, i) => v - eighths[k][i])));
    // Chords of a bent curve are a little shorter than its arcs.
    for (const step of steps) expect(Math.abs(step / steps[0] - 1)).toBeLessThan(0.05);
  });

  it("has the colours of its ends beyond them", () => {
    expect(scaleColour(-3)).toEqual(scaleColour(0));
    expect(scaleColour(7)).toEqual(scaleColour(1));
  });
});

describe("drawKey", () => {
  const svg = drawKey([1000, 2000], 400, letterPen);

  it("rises in lightness along the bar", () => {
    const fills = [...svg.matchAll(/fill="rgb\(([\d,]+)\)"/g)].map(([, rgb]) => rgb.split(",").map(Number));
    expect(fills.length).toBeGreaterThan(60);
    const lightness = fills.map(([r, g, b]) => lab([r, g, b])[0]);
    expect(lightness.every((value, k) => k === 0 || value >= lightness[k - 1])).toBe(true);
  });

  it("names the quantity with its unit and both ends", () => {
    expect(svg).toContain("local speed, m/s");
    expect(svg).toContain(">1000<");
    expect(svg).toContain(">2000<");
  });
});

describe("speedDomain", () => {
  it("of one speed reaches a tenth to either side, so that noise looks like noise", () => {
    const [low, high] = speedDomain(Float64Array.of(1480, 1481, Number.NaN, 1482), 1)!;
    expect(low).toBeLessThanOrEqual(1481 * 0.9);
    expect(high).toBeGreaterThanOrEqual(1481 * 1.1);
    expect(high - low).toBeLessThan(0.3 * 1481);
  });

  it("reaches six uncertainties of a cell to either side, and not below zero", () => {
    const [low, high] = speedDomain(Float64Array.of(100, 101, 99), 8)!;
    expect([low <= 52, high >= 148]).toEqual([true, true]);
    expect(speedDomain(Float64Array.of(100, 101, 99), 80)![0]).toBe(0);
  });

  it("is null where nothing is said", () => {
    expect(speedDomain(Float64Array.of(Number.NaN), 0)).toBeNull();
  });
});

describe("paintSpeeds", () => {
  const speed = {
    values: Float64Array.of(1, Number.NaN, 2, 2),
    shape: [2, 2] as const,
    cell: 3,
  };
  const rgb = paintSpeeds({ speed, shape: [7, 6] }, [1, 2], 2);
  const at = (x: number, y: number) => [...rgb.subarray(3 * (12 * y + x), 3 * (12 * y + x) + 3)].join();

  it("colours every pixel of a cell by its speed", () => {
    for (const place of [0, 5]) expect(at(place, place)).toBe(scaleColour(0).join());
    for (const place of [6, 11]) expect(at(place, place)).toBe(scaleColour(1).join());
  });

  it("hatches what has no speed, and what is beyond the cells", () => {
    const empty = EMPTY_COLOURS.map((colour) => colour.join());
    for (const [x, y] of [
      [6, 0],
      [11, 5],
      [0, 12],
      [11, 13],
    ])
      expect(empty).toContain(at(x, y));
  });

  it("shows a take in which no speed is said as hatched, without a key", async () => {
    const none = { ...speed, values: new Float64Array(4).fill(Number.NaN) };
    const picture = { speed: none, standardUncertainty: none.values, shape: [7, 6] as const, title: "" };
    const png = await drawSpeedMap(picture);
    expect(Buffer.from(png.subarray(1, 4)).toString()).toBe("PNG");
  });
});
