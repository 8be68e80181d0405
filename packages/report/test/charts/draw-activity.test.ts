import { DOMParser, type Element } from "@xmldom/xmldom";
import { describe, expect, test } from "vitest";
import { type ActivityPicture, drawActivity } from "../../src/index.js";

/** Invented. */
const picture: ActivityPicture = {
  activity: Array.from({ length: 500 }, (_, i) => ({ frame: 20 * i, strength: i === 351 ? 400 : i % 7 })),
  events: [
    { firstFrame: 7003, lastFrame: 7147, kind: "stays" },
    { firstFrame: 1500, lastFrame: 1600, kind: "passes" },
  ],
  firstFrame: 0,
  lastFrame: 9999,
  rateHz: 500e3,
  title: "Invented tile",
};

/** Parses strictly: the parser throws on anything that is not well formed. */
function parse(drawn: ActivityPicture): Element {
  const report = (level: string, message: string) => {
    throw new Error(`${level}: ${message}`);
  };
  return new DOMParser({ onError: report }).parseFromString(drawActivity(drawn), "image/svg+xml")
    .documentElement!;
}

const byClass = (root: Element, name: string, tag: string) =>
  [...root.getElementsByTagName(tag)].filter((element) => element.getAttribute("class") === name);
const texts = (root: Element) => [...root.getElementsByTagName("text")].map((text) => text.textContent);

/** From the printed numbers of an axis alone: which pixel belongs to a value. */
function readAxis(axis: Element, direction: "x" | "y"): (value: number) => number {
  const ticks = [...axis.getElementsByTagName("text")].slice(0, -1).map((text) => ({
    value: Number(text.textContent),
    at: Number(text.getAttribute(direction)) - (direction === "y" ? 0.36 * 13 : 0),
  }));
  const [first, last] = [ticks[0], ticks[ticks.length - 1]];
  return (value) => first.at + ((value - first.value) / (last.value - first.value)) * (last.at - first.at);
}

/** Coordinates are written to 0.01 px, at the ticks and at the marks: two roundings. */
const ROUNDING_PX = 0.05;

describe("drawActivity", () => {
  test("a change of the light is a dashed line at its frame, and the legend says that it is no event", () => {
    const root = parse({ ...picture, lightChanges: [{ firstFrame: 4000, lastFrame: 4000 }] });
    const x = readAxis(byClass(root, "axis axis-bottom", "g")[0], "x");
    const [line, ...others] = byClass(root, "light", "path");
    expect(others).toEqual([]);
    expect(Math.abs(Number(/M(\S+) /.exec(line.getAttribute("d")!)![1]) - x(4000))).toBeLessThan(ROUNDING_PX);
    expect(drawActivity(picture)).not.toContain('class="light"');
  });

  test("bars and events stand where the printed axes put their frames and strengths", () => {
    const root = parse(picture);
    const x = readAxis(byClass(root, "axis axis-bottom", "g")[0], "x");
    const y = readAxis(byClass(root, "axis axis-left", "g")[0], "y");
    const bars = [
      ...byClass(root, "activity", "path")[0]
        .getAttribute("d")!
        .matchAll(/M(\S+) \S+V([\d.]+)/g),
    ];
    expect(bars).toHaveLength(picture.activity.filter(({ strength }) => strength > 0).length);
    const [, barX] = bars.find(([, , top]) => Math.abs(Number(top) - y(400)) < ROUNDING_PX) ?? [];
    expect(Math.abs(Number(barX) - x(7020))).toBeLessThan(ROUNDING_PX);

    const rects = byClass(root, "event", "rect");
    expect(rects).toHaveLength(2);
    for (const [i, { firstFrame, lastFrame }] of picture.events.entries()) {
      const from = Number(rects[i].getAttribute("x"));
      expect(Math.abs(from - x(firstFrame - 0.5))).toBeLessThan(ROUNDING_PX);
      const to = from + Number(rects[i].getAttribute("width"));
      expect(Math.abs(to - x(lastFrame + 0.5))).toBeLessThan(2 * ROUNDING_PX);
    }
  });

  test("events are numbered, and the key and the description name their frames", () => {
    const root = parse(picture);
    expect(texts(root)).toEqual(
      expect.arrayContaining(["1", "2", "1: frames 7003 to 7147, stays", "2: frames 1500 to 1600, passes"]),
    );
    expect(root.getElementsByTagName("desc")[0].textContent).toContain(
      "Events, strongest first: frames 7003 to 7147 (stays); frames 1500 to 1600 (passes).",
    );
  });

  test("of many events four are named in the key, all are marked, and numbers do not stand on each other", () => {
    const events = Array.from({ length: 16 }, (_, i) => ({
      firstFrame: 100 * i,
      lastFrame: 100 * i + 40,
      kind: "passes" as const,
    }));
    const root = parse({ ...picture, events });
    expect(byClass(root, "mark", "path")).toHaveLength(16);
    expect(texts(root)).toContain("and 12 weaker");
    expect(texts(root).filter((text) => /^\d: frames/.test(text ?? ""))).toHaveLength(4);
    const places = [...root.getElementsByTagName("text")]
      .filter((text) => /^\d+$/.test(text.textContent ?? "") && text.parentNode === root)
      .map((text) => Number(text.getAttribute("x")))
      .sort((a, b) => a - b);
    expect(places.length).toBeGreaterThan(3);
    for (let i = 1; i < places.length; i++) expect(places[i] - places[i - 1]).toBeGreaterThan(8);
  });

  test("an event of one frame in four million is still a pixel wide", () => {
    const event = { firstFrame: 2_718_281, lastFrame: 2_718_281, kind: "stays" } as const;
    const [rect] = byClass(parse({ ...picture, lastFrame: 3_999_999, events: [event] }), "event", "rect");
    expect(Number(rect.getAttribute("width"))).toBe(1);
  });

  test("at 500 kHz frame 5000 stands at 10 ms; without a rate there is no time", () => {
    const root = parse(picture);
    const time = byClass(root, "axis axis-top", "g")[0];
    expect(time.textContent).toMatch(/time since frame 0, ms$/);
    const x = readAxis(byClass(root, "axis axis-bottom", "g")[0], "x");
    expect(Math.abs(readAxis(time, "x")(10) - x(5000))).toBeLessThan(ROUNDING_PX);
    const { rateHz: _, ...timeless } = picture;
    expect(byClass(parse(timeless), "axis axis-top", "g")).toHaveLength(0);
  });

  test("nothing that happened, one frame, and markup in the title give a well-formed picture that says so", () => {
    const still = { ...picture, activity: [], events: [], title: `<b> & "x"`, subtitle: "none" };
    const root = parse({ ...still, firstFrame: 3, lastFrame: 3 });
    expect(root.getElementsByTagName("title")[0].textContent).toBe(`<b> & "x": none`);
    expect(root.getElementsByTagName("desc")[0].textContent).toContain("No event was found");
    expect(drawActivity(still)).not.toMatch(/NaN|Infinity/);
  });

  test.each([
    [{ lastFrame: -1 }, "firstFrame must be finite and <= lastFrame, got 0 and -1"],
    [{ activity: [{ frame: 10_000, strength: 1 }] }, "activity[0].frame must lie"],
    [
      {
        activity: [
          { frame: 9, strength: 1 },
          { frame: 5, strength: 1 },
        ],
      },
      "activity must be in order of frame, got frame 5 behind 9 at 1",
    ],
    [
      { activity: [{ frame: 1, strength: Number.NaN }] },
      "activity[0].strength must be finite and >= 0, got NaN",
    ],
    [{ events: [{ firstFrame: 9, lastFrame: 8, kind: "stays" as const }] }, "events[0] must lie"],
    [{ rateHz: 0 }, "rateHz must be finite and > 0, got 0"],
  ])("%j is refused", (wrong, words) => {
    expect(() => drawActivity({ ...picture, ...wrong })).toThrow(RangeError);
    expect(() => drawActivity({ ...picture, ...wrong })).toThrow(words);
  });
});
