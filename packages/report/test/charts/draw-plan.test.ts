import { DOMParser, type Element } from "@xmldom/xmldom";
import { describe, expect, test } from "vitest";
import { drawPlan, type PlanPicture } from "../../src/index.js";

/** Invented modes. */
const mode = {
  rows: 200,
  columns: 1280,
  framesAcross: 50,
  framesForBlur: 20 as number | null,
  meets: true,
  interpolated: false,
};
const picture: PlanPicture = {
  modes: [
    mode,
    { ...mode, rows: 100, framesAcross: 100, interpolated: true },
    { ...mode, rows: 800, framesAcross: 12, framesForBlur: 30, meets: false },
  ],
  chosen: 1,
  framesWanted: 20,
  title: "Invented tile",
};

function parse(of: PlanPicture): Element {
  const report = (level: string, message: string) => {
    throw new Error(`${level}: ${message}`);
  };
  return new DOMParser({ onError: report }).parseFromString(drawPlan(of), "image/svg+xml").documentElement!;
}
const byClass = (root: Element, name: string, tag = "g") =>
  [...root.getElementsByTagName(tag)].filter((element) => element.getAttribute("class") === name);
const placeOf = (element: Element) =>
  (element.getAttribute("transform")!.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);

/** From the printed numbers of a logarithmic axis alone: which pixel belongs to a value. */
function readAxis(axis: Element, direction: "x" | "y"): (value: number) => number {
  const ticks = [...axis.getElementsByTagName("text")].slice(0, -1).map((text) => ({
    value: Math.log(Number(text.textContent)),
    at: Number(text.getAttribute(direction)),
  }));
  const [first, last] = [ticks[0], ticks[ticks.length - 1]];
  const centre = direction === "y" ? 0.36 * 13 : 0;
  return (value) =>
    first.at - centre + ((Math.log(value) - first.value) / (last.value - first.value)) * (last.at - first.at);
}

/** Coordinates are written to 0.01 px, at the ticks and at the marks: two roundings, stretched beyond the ticks. */
const ROUNDING_PX = 0.05;

describe("drawPlan", () => {
  test("where no mode meets the wish the nearest is ringed, and what to relax is said in full", () => {
    const relax =
      "1280 x 100 px at 500000 frames/s comes nearest: want 100 frames across instead of 250, and allow a blur of 3.117 px instead of 2.5 px, and accept 0.01 %";
    const unmet = parse({
      ...picture,
      modes: picture.modes.map((one) => ({ ...one, meets: false })),
      chosen: null,
      nearest: { mode: 1, relax },
    });
    const texts = [...unmet.getElementsByTagName("text")].map(({ textContent }) => textContent!);
    expect(texts.join(" ")).toContain(relax);
    expect(texts).toContain("does not meet the wish");
    const ringed = [...unmet.getElementsByTagName("circle")].filter(
      (circle) =>
        circle.getAttribute("class") === "nearest" &&
        (circle.parentNode as Element).getAttribute("class") === "mode fails",
    );
    expect(ringed).toHaveLength(1);
    expect((ringed[0].parentNode as Element).getElementsByTagName("title")[0].textContent).toContain(
      "1280 x 100 px",
    );
    expect(() => drawPlan({ ...picture, nearest: { mode: 1, relax } })).toThrow(RangeError);
  });

  test("modes and blur limits stand where the printed axes put their rows and frames", () => {
    const root = parse(picture);
    const x = readAxis(byClass(root, "axis axis-bottom")[0], "x");
    const y = readAxis(byClass(root, "axis axis-left")[0], "y");
    const marks = [...byClass(root, "mode meets"), ...byClass(root, "mode fails")].map(placeOf);
    const bars = byClass(root, "blur-limit").map(placeOf);
    picture.modes.forEach(({ rows, framesAcross, framesForBlur }, k) => {
      expect(Math.abs(marks[k][0] - x(rows))).toBeLessThan(ROUNDING_PX);
      expect(Math.abs(marks[k][1] - y(framesAcross))).toBeLessThan(ROUNDING_PX);
      expect(Math.abs(bars[k][0] - x(rows))).toBeLessThan(ROUNDING_PX);
      expect(Math.abs(bars[k][1] - y(framesForBlur!))).toBeLessThan(ROUNDING_PX);
    });
    const wanted = byClass(root, "frames-wanted", "path").map((path) => path.getAttribute("d"));
    expect(wanted).toContain(`M92 ${Math.round(y(20) * 100) / 100}H926`);
  });

  test("ticks are 1, 2 and 5 times powers of ten", () => {
    const [axis] = byClass(parse(picture), "axis axis-bottom");
    const numbers = [...axis.getElementsByTagName("text")].map((text) => text.textContent);
    expect(numbers).toEqual(["100", "200", "500", "1000", "rows, px (widths side by side)"]);
  });

  test("the chosen mode is ringed, and only that", () => {
    const root = parse(picture);
    const rings = byClass(root, "chosen", "circle").map((ring) =>
      (ring.parentNode as Element).getAttribute("class"),
    );
    // One of the two is in the legend.
    expect(rings.filter((name) => name === "mode meets")).toHaveLength(1);
    expect(drawPlan({ ...picture, chosen: null })).not.toContain('class="chosen"');
  });

  test("without a limit to the blur no bar stands, neither in the panel nor in the legend", () => {
    const modes = picture.modes.map((one) => ({ ...one, framesForBlur: null }));
    const text = drawPlan({ ...picture, modes });
    expect(text).not.toContain("blur");
    expect(drawPlan(picture)).toContain("blur limit");
  });

  test("modes of two widths stand beside each other and are named", () => {
    const modes = [mode, { ...mode, columns: 640, meets: false }];
    const root = parse({ ...picture, modes, chosen: 0 });
    const [[wide], [narrow]] = [...byClass(root, "mode meets"), ...byClass(root, "mode fails")].map(placeOf);
    expect(wide - narrow).toBeGreaterThan(10);
    const texts = [...root.getElementsByTagName("text")].map((text) => text.textContent);
    expect(texts).toEqual(expect.arrayContaining(["1280 px wide", "640 px wide"]));
  });

  test("says in words what it shows", () => {
    const root = parse(picture);
    const [description] = [...root.getElementsByTagName("desc")].map((element) => element.textContent);
    expect(description).toContain("3 recording modes, 2 of which meet the wish");
    expect(description).toContain("1280 x 100 px is chosen");
    expect(root.getElementsByTagName("title")[0].textContent).toBe("Invented tile");
  });

  test("one mode alone, and the same picture twice, give a well-formed text", () => {
    const alone = { ...picture, modes: [mode], chosen: 0 };
    expect(drawPlan(alone)).not.toMatch(/NaN|Infinity|undefined/);
    expect(parse(alone).getAttribute("viewBox")).toMatch(/^0 0 960 \d+$/);
    expect(drawPlan(picture)).toBe(drawPlan(picture));
  });

  test.each<[string, Partial<PlanPicture>, string]>([
    ["no mode", { modes: [] }, "modes must hold at least one mode, got 0"],
    ["no height", { modes: [{ ...mode, rows: 0 }] }, "modes[0].rows must be finite and > 0, got 0"],
    [
      "frames that are no number",
      { modes: [{ ...mode, framesAcross: Number.NaN }] },
      "modes[0].framesAcross must be finite and > 0, got NaN",
    ],
    [
      "a limit of none",
      { modes: [{ ...mode, framesForBlur: 0 }] },
      "modes[0].framesForBlur must be finite and > 0, got 0",
    ],
    ["no frames wanted", { framesWanted: 0 }, "framesWanted must be finite and > 0, got 0"],
    ["a choice beyond the modes", { chosen: 3 }, "chosen must be an index of modes or null, got 3"],
  ])("%s is a RangeError that names argument, rule and value", (_, change, message) => {
    expect(() => drawPlan({ ...picture, ...change })).toThrow(new RangeError(message));
  });
});
