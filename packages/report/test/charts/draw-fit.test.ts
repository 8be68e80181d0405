import { DOMParser, type Element } from "@xmldom/xmldom";
import { describe, expect, test } from "vitest";
import { chooseUnit } from "../../src/drawing/choose-unit.js";
import { drawFit, type FitPicture } from "../../src/index.js";
import { inventFit } from "../invented.js";

/** Parses strictly: the parser throws on anything that is not well formed. */
function parse(picture: FitPicture): Element {
  const report = (level: string, message: string) => {
    throw new Error(`${level}: ${message}`);
  };
  return new DOMParser({ onError: report }).parseFromString(drawFit(picture), "image/svg+xml")
    .documentElement!;
}

const byClass = (root: Element, name: string, tag = "path") =>
  [...root.getElementsByTagName(tag)].filter((element) => element.getAttribute("class") === name);
const numbersOf = (element: Element, attribute = "d") =>
  (element.getAttribute(attribute)!.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);

/** From the printed numbers of an axis alone: which pixel belongs to a value. */
function readAxis(axis: Element, direction: "x" | "y"): (value: number) => number {
  const ticks = [...axis.getElementsByTagName("text")].slice(0, -1).map((text) => ({
    value: Number(text.textContent!.replace("\u2212", "-")),
    at: Number(text.getAttribute(direction)),
  }));
  const [first, last] = [ticks[0], ticks[ticks.length - 1]];
  const centre = direction === "y" ? 0.36 * 13 : 0;
  return (value) =>
    first.at - centre + ((value - first.value) / (last.value - first.value)) * (last.at - first.at);
}

function readAxes(root: Element) {
  const [upper, lower] = byClass(root, "axis axis-left", "g");
  const bottom = byClass(root, "axis axis-bottom", "g")[1];
  return { x: readAxis(bottom, "x"), y: readAxis(upper, "y"), residualY: readAxis(lower, "y") };
}

const range = (count: number, from = 0) => Array.from({ length: count }, (_, i) => from + i);

/** Coordinates are written to 0.01 px, at the ticks and at the marks: two roundings, stretched beyond the ticks. */
const ROUNDING_PX = 0.05;

describe("drawFit", () => {
  test("the ends of the line stand where the printed axes put frames 12 and 40 and their positions", () => {
    const root = parse(inventFit(range(29, 12)));
    const { x, y } = readAxes(root);
    const [x1, y1, x2, y2] = numbersOf(byClass(root, "fitted-line")[0]);
    expect(Math.abs(x1 - x(12))).toBeLessThan(ROUNDING_PX);
    expect(Math.abs(x2 - x(40))).toBeLessThan(ROUNDING_PX);
    expect(Math.abs(y1 - y(30 + 7.5 * 12))).toBeLessThan(ROUNDING_PX);
    expect(Math.abs(y2 - y(30 + 7.5 * 40))).toBeLessThan(ROUNDING_PX);
  });

  test("a model's course is drawn in place of the line, where the printed axes put it, and named in the key", () => {
    const curve = range(29, 12).map((frame) => ({
      frame,
      positionPixels: 30 + 7.5 * frame + (frame - 26) ** 2,
    }));
    const picture = { ...inventFit(range(29, 12)), curve, fitted: "model power-law" };
    const root = parse(picture);
    const { x, y } = readAxes(root);
    const drawn = numbersOf(byClass(root, "fitted-line")[0]);
    expect(drawn).toHaveLength(2 * curve.length);
    for (const [k, { frame, positionPixels }] of curve.entries()) {
      expect(Math.abs(drawn[2 * k] - x(frame))).toBeLessThan(ROUNDING_PX);
      expect(Math.abs(drawn[2 * k + 1] - y(positionPixels))).toBeLessThan(ROUNDING_PX);
    }
    expect(root.textContent).toContain("model power-law, frames 12 to 40");
  });

  test.each([0.01, 10])(
    "residuals of %s px and their bars stand where the printed axis puts them",
    (scale) => {
      const picture = inventFit(range(20), { scale });
      const root = parse(picture);
      const { x, residualY } = readAxes(root);
      const dots = numbersOf(byClass(root, "used")[1]);
      const bars = numbersOf(byClass(root, "bars")[1]);
      picture.points.forEach(({ frame, residualPixels, standardUncertaintyPixels }, i) => {
        expect(Math.abs(dots[3 * i] - x(frame))).toBeLessThan(ROUNDING_PX);
        expect(Math.abs(dots[3 * i + 1] - residualY(residualPixels))).toBeLessThan(ROUNDING_PX);
        const low = residualY(residualPixels - standardUncertaintyPixels);
        expect(Math.abs(bars[3 * i + 1] - low)).toBeLessThan(ROUNDING_PX);
      });
      const [lowest, highest] = [residualY(-scale / 2), residualY(scale / 2)];
      expect(lowest - highest).toBeGreaterThan(80);
    },
  );

  test("a rejected point is crossed and named, and does not squeeze the residuals of the others", () => {
    const clean = inventFit(range(30));
    const root = parse(inventFit(range(30), { rejected: [17], rejectedResidual: 250 }));
    const crosses = byClass(root, "rejected", "g");
    expect(crosses.map((cross) => cross.getElementsByTagName("title")[0].textContent)).toEqual([
      "frame 17, rejected: position 407.5 px, residual +250 px",
      "frame 17, rejected: position 407.5 px, residual +250 px",
    ]);
    const texts = [...root.getElementsByTagName("text")].map((text) => text.textContent);
    expect(texts).toContain("frame 17: +250 px");
    expect(texts).toContain("points rejected (1): frame 17");
    const spread = (element: Element) => readAxes(element).residualY(0) - readAxes(element).residualY(0.01);
    expect(spread(root)).toBeGreaterThan(spread(parse(clean)) / 1.6);
  });

  test("at 800 kHz frame 80 stands at 100 µs on the time scale, at 0.2 mm a pixel 300 px at 60 mm", () => {
    const root = parse({ ...inventFit(range(90)), rateHz: 800e3, metresPerPixel: 2e-4 });
    const { x, y } = readAxes(root);
    const time = byClass(root, "axis axis-top", "g")[0];
    const [metres] = byClass(root, "axis axis-right", "g");
    expect(time.textContent).toMatch(/time since frame 0, µs$/);
    expect(metres.textContent).toMatch(/position along the path, mm$/);
    expect(Math.abs(readAxis(time, "x")(100) - x(80))).toBeLessThan(ROUNDING_PX);
    expect(Math.abs(readAxis(metres, "y")(60) - y(300))).toBeLessThan(ROUNDING_PX);
  });

  test("without rate and scale there is no second axis", () => {
    const root = parse(inventFit(range(9)));
    expect(byClass(root, "axis axis-top", "g")).toHaveLength(0);
    expect(byClass(root, "axis axis-right", "g")).toHaveLength(0);
  });

  test("frames near a million are timed from the first one shown", () => {
    const root = parse({ ...inventFit(range(20, 1_000_000)), rateHz: 1e6 });
    expect(byClass(root, "axis axis-top", "g")[0].textContent).toMatch(/time since frame 1000000, µs$/);
  });

  test("special and forbidden characters of the title come back as text or are replaced", () => {
    const title = `<b> & "tile" 'x' \u0007`;
    const root = parse({ ...inventFit(range(4)), title });
    expect(root.getElementsByTagName("title")[0].textContent).toBe(`<b> & "tile" 'x' □`);
    expect(root.getElementsByTagName("b")).toHaveLength(0);
  });

  test.each([1, 3, 5000])(
    "%i points give a well-formed picture with finite coordinates and all points",
    (count) => {
      const picture = inventFit(range(count, 5));
      expect(drawFit(picture)).not.toMatch(/NaN|Infinity|undefined/);
      expect(numbersOf(byClass(parse(picture), "used")[0])).toHaveLength(3 * count);
    },
  );

  test("constant positions with zero residuals and uncertainties give finite scales", () => {
    const point = { positionPixels: 100, standardUncertaintyPixels: 0, residualPixels: 0, used: true };
    const points = range(6).map((frame) => ({ ...point, frame }));
    const line = { interceptPixels: 100, slopePixelsPerFrame: 0, firstFrame: 0, lastFrame: 5 };
    const root = parse({ points, line, title: "Invented" });
    const { residualY, y } = readAxes(root);
    const dots = byClass(root, "used").map((element) => numbersOf(element)[1]);
    expect(Math.abs(dots[0] - y(100))).toBeLessThan(ROUNDING_PX);
    expect(Math.abs(dots[1] - residualY(0))).toBeLessThan(ROUNDING_PX);
  });

  test("a rejected frame without a reading is counted and not drawn", () => {
    const picture = inventFit(range(6));
    const unread = { frame: 6, positionPixels: Number.NaN, residualPixels: Number.NaN, used: false };
    const points = [...picture.points, { ...unread, standardUncertaintyPixels: Number.NaN }];
    const text = drawFit({ ...picture, points });
    expect(text).toContain("frames without a reading: 1");
    expect(text).not.toContain("NaN");
  });

  test("the document has role, viewBox, title and a description that counts the points", () => {
    const root = parse(inventFit(range(10), { rejected: [3, 4] }));
    expect(root.getAttribute("role")).toBe("img");
    expect(root.getAttribute("viewBox")).toMatch(/^0 0 960 \d+$/);
    expect(root.getAttribute("font-family")).toBe("sans-serif");
    expect(root.getElementsByTagName("desc")[0].textContent).toContain("8 points used and 2 rejected");
  });

  test("the same picture gives the same text", () => {
    expect(drawFit(inventFit(range(40), { rejected: [5] }))).toBe(
      drawFit(inventFit(range(40), { rejected: [5] })),
    );
  });

  const good = inventFit(range(3));
  test.each<[string, Partial<FitPicture>, string]>([
    ["no point", { points: [] }, "points must hold at least one point, got 0"],
    ["a rate of zero", { rateHz: 0 }, "rateHz must be finite and > 0, got 0"],
    ["a negative scale", { metresPerPixel: -2e-5 }, "metresPerPixel must be finite and > 0, got -0.00002"],
    [
      "a used point without a position",
      { points: [{ ...good.points[0], positionPixels: Number.NaN }] },
      "points[0].positionPixels must be finite where used, got NaN",
    ],
    [
      "a line without a slope",
      { line: { ...good.line, slopePixelsPerFrame: Number.NaN } },
      "line.slopePixelsPerFrame must be finite, got NaN",
    ],
  ])("%s is a RangeError that names argument, rule and value", (_, change, message) => {
    expect(() => drawFit({ ...good, ...change })).toThrow(new RangeError(message));
  });
});

test.each([
  [1.2, "s"],
  [1e-3, "ms"],
  [9.99e-4, "µs"],
  [3e-8, "ns"],
  [0, "ns"],
])("a span of %s s is shown in %s", (span, name) => {
  expect(chooseUnit(span, "s").name).toBe(name);
});
