import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { checkTake, findInTake, measureTake } from "@frontpace/take";
import { describe, expect, it } from "vitest";

const fixture = (name: string) => fileURLToPath(new URL(`../fixtures/${name}`, import.meta.url));

async function measured(name: string, options = {}) {
  const { result } = await measureTake(fixture(name), options);
  if (result.status !== "measured") throw new Error(`${name} is ${result.status}`);
  return result;
}

describe("the invented takes", () => {
  // Scale 0.3 % and 0.4 % standard uncertainty are the floor: twice that and a fifth more is a tight interval.
  it.each([
    ["cracking-tile", 0.0072, [1, 0]],
    ["cracking-tile-backlit", 0.0072, [1, 0]],
    ["slow-crack", 0.0096, [-1, 0]],
  ])(
    "%s: the interval holds the speed put in, and is no wider than %f of it",
    async (name, widest, direction) => {
      const truth = JSON.parse(await readFile(`${fixture(name)}/truth.json`, "utf8"));
      const { speed, front } = await measured(name);
      expect(Math.abs(speed.value - truth.speedMetresPerSecond)).toBeLessThan(speed.expandedUncertainty);
      expect(speed.expandedUncertainty / speed.value).toBeLessThan(widest);
      expect(speed.complete).toBe(true);
      expect(front.polarity).toBe(truth.polarity);
      expect(front.direction).toEqual(direction);
    },
  );

  it("the fit alone is within 0.05 % of the pixels a frame put into the tile, and 0.5 % for the slow crack", async () => {
    for (const [name, tolerance] of [
      ["cracking-tile", 5e-4],
      ["cracking-tile-backlit", 5e-4],
      ["slow-crack", 5e-3],
    ] as const) {
      const truth = JSON.parse(await readFile(`${fixture(name)}/truth.json`, "utf8"));
      const { speed, take } = await measured(name);
      const pixelsPerFrame = speed.value / (take.rateHz * take.metresPerPixel);
      expect(Math.abs(pixelsPerFrame / Math.abs(truth.pixelsPerFrame) - 1)).toBeLessThan(tolerance);
    }
  });
});

describe("the invented long take", () => {
  it("is measured where the crack was put, and the interval holds its speed; find names the dust too", async () => {
    const file = fixture("long-take/tile.bin");
    const truth = JSON.parse(await readFile(fixture("long-take/truth.json"), "utf8"));
    const { speed, search } = await measured("long-take/tile.bin");
    expect(Math.abs(speed.value - truth.speedMetresPerSecond)).toBeLessThan(speed.expandedUncertainty);
    const { events } = (await findInTake(file)).events;
    expect(search?.events).toEqual(events);
    expect(events.map(({ kind }) => kind)).toEqual(["stays", "passes"]);
    // The blurred edge is seen up to two frames before its middle enters and after it left.
    const [entered, left] = truth.framesOnPicture;
    expect(Math.abs(events[0].firstFrame - entered)).toBeLessThan(3);
    expect(Math.abs(events[0].lastFrame - left)).toBeLessThan(3);
    expect(events[1].firstFrame).toBeGreaterThanOrEqual(truth.dust.firstFrame);
    expect(events[1].lastFrame).toBeLessThanOrEqual(truth.dust.lastFrame);
  });
});

describe("real footage: a nickel alloy freezing", () => {
  // Readings of difference frames by hand gave 0.191-0.200 m/s; the README beside the frames says how.
  const options = {
    rateHz: 80_000,
    metresPerPixel: 1.93e-6,
    path: [
      [111.5, 110],
      [111.5, 62],
    ] as [[number, number], [number, number]],
    width: 16,
  };

  it("columns 104-119, rows 62-110: 0.180-0.212 m/s with a 95 % half-width of at most 20 %", async () => {
    const { speed } = await measured("nickel-solidification", options);
    expect(speed.value).toBeGreaterThan(0.18);
    expect(speed.value).toBeLessThan(0.212);
    expect(speed.expandedUncertainty / speed.value).toBeLessThan(0.2);
  });

  it("the front runs up the picture and leaves it darker, and the result is a reading only", async () => {
    const { speed, front, warnings } = await measured("nickel-solidification", options);
    expect(front.direction).toEqual([0, -1]);
    expect(front.polarity).toBe("dark");
    expect(speed).toMatchObject({ complete: false, missing: ["scale", "rate"] });
    expect(warnings.map(({ code }) => code)).toEqual(expect.arrayContaining(["few-frames", "reading-only"]));
  });
});

describe("the invented day of takes", () => {
  it("is measured where something ran, to within the intervals of the speeds that were put in", async () => {
    const { speedMetresPerSecond: truth, damaged } = JSON.parse(
      await readFile(fixture("quench-day/truth.json"), "utf8"),
    );
    const {
      format: _,
      version: __,
      notes: ___,
      ...options
    } = JSON.parse(await readFile(fixture("quench-day/take.json"), "utf8"));
    for (const [name, speed] of Object.entries<number | null>(truth)) {
      const take = measureTake(fixture(`quench-day/${name}`), options);
      if (name === damaged) {
        await expect(take).rejects.toMatchObject({ code: "corrupt-frame" });
        continue;
      }
      const { result } = await take;
      if (speed === null) expect(result.status).toBe("not-found");
      else expect(Math.abs(result.speed!.value - speed)).toBeLessThan(result.speed!.expandedUncertainty);
    }
  });
});

describe("the invented dry run", () => {
  it("passes every line, and tells the blur, the noise and the rate that were put in", async () => {
    const truth = JSON.parse(await readFile(fixture("dry-run/truth.json"), "utf8"));
    const { check } = await checkTake(fixture("dry-run/tile.bin"), {
      path: [
        [8, 16],
        [90, 16],
      ],
      clockHz: truth.lampHz,
      clockUncertaintyHz: 1e-5 * truth.lampHz,
      lamp: [
        [0, 0],
        [7, 7],
      ],
    });
    expect(check.lines.map(({ verdict }) => verdict)).toEqual(Array(8).fill("pass"));
    const valuesOf = (name: string) => check.lines.find((line) => line.check === name)!.values;
    const seen =
      Math.hypot(truth.blurPixels, Math.sqrt(1 / 12)) / Math.cos((truth.slantDegrees * Math.PI) / 180);
    // Three standard uncertainties of the blur, and of 100 frames the noise to 5 %.
    const { blurPixels, standardUncertaintyPixels } = valuesOf("focus");
    expect(Math.abs(blurPixels! - seen)).toBeLessThan(3 * standardUncertaintyPixels!);
    expect(
      Math.abs(valuesOf("noise").pixelNoise! / Math.hypot(truth.noise, Math.sqrt(1 / 12)) - 1),
    ).toBeLessThan(0.05);
    const { rateHz, rateUncertaintyHz } = check.clock!;
    expect(Math.abs(rateHz - truth.rateHz)).toBeLessThan(2 * rateUncertaintyHz!);
    expect(rateUncertaintyHz! / rateHz).toBeLessThan(1e-3);
  });
});
