import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openFrames } from "@frontpace/frame-loader";
import { measureTake } from "@frontpace/take";
import { afterAll, describe, expect, it } from "vitest";
import { checkLines } from "../scripts/bench/print-checks.js";
import { type Check, holds } from "../scripts/bench/row.js";
import { generalPurposeCheck } from "../scripts/bench/rows/general-purpose-check.js";
import { contest, medianSeconds, peakBytes, timeRatio } from "../scripts/bench/run/contest.js";
import { middleBand } from "../scripts/bench/run/contestants.js";
import { timedRun } from "../scripts/bench/run/timed.js";
import { crossingScene, sceneRenderer } from "../scripts/bench/take/scene.js";
import { containerFormats, writeContainer } from "../scripts/bench/take/write-container.js";
import { writeStills } from "../scripts/bench/take/write-stills.js";

const folder = await mkdtemp(join(tmpdir(), "bench-test-"));
afterAll(() => rm(folder, { recursive: true, force: true }));

const runs = (...seconds: number[]) =>
  seconds.map((one) => ({ seconds: one, peakBytes: one * 1e6, processorSeconds: one, output: "" }));

describe("the takes of the benchmarks", () => {
  const raw = { columns: 70, rows: 20 } as const;

  it.each(containerFormats.flatMap((format) => [[format, 8] as const, [format, 16] as const]))(
    "%s of %i bits holds the frames of the scene, and dark ones about them",
    async (format, bits) => {
      const scene = crossingScene(6, 20, 70, bits);
      const content = { scene, frames: 11, from: 3 };
      const file = await writeContainer(join(folder, `${bits}.${format}`), format, content);
      const sample = bits === 8 ? ("u8" as const) : ("u16le" as const);
      const sequence = await openFrames(file, format === "raw" ? { raw: { ...raw, sample } } : {});
      expect(sequence).toMatchObject({ rows: 20, columns: 70, bitDepth: bits, warnings: [] });
      expect(sequence.numbers).toHaveLength(11);
      const render = sceneRenderer(scene);
      for (let k = 0; k < 6; k++) expect((await sequence.read(3 + k)).data).toEqual(render(k));
      for (const outside of [0, 2, 9, 10])
        expect(new Set((await sequence.read(outside)).data)).toEqual(new Set([0]));
      await sequence.close();
    },
  );

  it.each(["png", "tiff"] as const)("%s stills hold the frames of the scene", async (format) => {
    const scene = crossingScene(5, 20, 70, 8);
    const sequence = await openFrames(await writeStills(join(folder, `stills-${format}`), scene, format));
    expect(sequence.numbers).toEqual([0, 1, 2, 3, 4]);
    const render = sceneRenderer(scene);
    for (let k = 0; k < 5; k++) expect((await sequence.read(k)).data).toEqual(render(k));
    await sequence.close();
  });

  it("show a front of the speed that is stated", async () => {
    const scene = crossingScene(60, 24, 240, 8);
    const take = await writeStills(join(folder, "speed"), scene, "tiff");
    const { result } = await measureTake(take, { rateHz: 1, metresPerPixel: 1 });
    expect(Math.abs((result.speed?.value ?? 0) / scene.pixelsPerFrame - 1)).toBeLessThan(0.001);
  });

  it("are read in 40 rows about the middle, or in all of fewer", () => {
    expect(middleBand(720)).toEqual({ top: 340, rows: 40 });
    expect(middleBand(30)).toEqual({ top: 0, rows: 30 });
  });
});

describe("the ratios of the benchmarks", () => {
  it("compare neighbours in time, whatever the machine did between the rounds", () => {
    expect(timeRatio(runs(2, 20, 3), runs(1, 10, 1.5))).toBe(2);
    expect(medianSeconds(runs(5, 1, 2, 9))).toBe(3.5);
    expect(peakBytes(runs(3, 8, 5))).toBe(8e6);
    expect(() => peakBytes([{ seconds: 1, peakBytes: null, processorSeconds: null, output: "" }])).toThrow(
      "peak memory",
    );
  });

  it("run contestants in turn, leave the first round out, and refuse a wrong speed", async () => {
    const says = (text: string) => ({
      command: process.execPath,
      args: ["-e", `console.log(${JSON.stringify(text)})`],
      speedOf: Number,
    });
    const found = await contest({ a: says("2.01"), b: says("1.99") }, 2, 2);
    expect([found.a.length, found.b.length]).toEqual([2, 2]);
    expect(found.a[0].output).toBe("2.01\n");
    await expect(contest({ a: says("2"), b: says("2.1") }, 1, 2)).rejects.toThrow("b gave 2.1");
    const fails = { command: process.execPath, args: ["-e", "process.exit(1)"] };
    await expect(contest({ fails }, 1, 2)).rejects.toThrow();
  });

  it("know the processor time of a run and of the processes that it started", async () => {
    const busy = "let sum = 0; for (let k = 0; k < 2e8; k++) sum += k % 3;";
    const starts = `require("node:child_process").spawnSync(process.execPath, ["-e", ${JSON.stringify(busy)}])`;
    const report = fileURLToPath(new URL("../scripts/bench/run/report-used.mjs", import.meta.url));
    const args = ["--import", report, "-e", `${starts}; ${busy}`];
    const run = (some: string[]) => timedRun({ command: process.execPath, args: some });
    const alone = ["--import", report, "-e", busy];
    const [both, one] = [await run(args), await run(alone)];
    // A neighbour on the machine makes a run take more processor time, never less.
    const least = async (first: typeof one, again: string[]) =>
      Math.min(first.processorSeconds ?? 0, (await run(again)).processorSeconds ?? 0);
    const times = (await least(both, args)) / (await least(one, alone));
    expect(times).toBeGreaterThan(1.5);
    expect(times).toBeLessThan(2.5);
    expect(one.processorSeconds).toBeLessThan(2 * one.seconds);
    expect(one.peakBytes).toBeGreaterThan(1e7);
  });

  it("hold or miss their bars, and are not judged without a figure", () => {
    const check = (value: number | null, bar: Check["bar"]): Check => ({ what: "x", value, bar, note: "" });
    const atLeast = { atLeast: 3, unit: "times" } as const;
    const below = { below: 1.2, unit: "times" } as const;
    expect([3, 2.99].map((value) => holds(check(value, atLeast)))).toEqual([true, false]);
    expect([1.19, 1.2].map((value) => holds(check(value, below)))).toEqual([true, false]);
    expect(holds(check(null, atLeast))).toBeNull();
    const lines = checkLines([check(2, atLeast), check(1, below), check(null, atLeast)]);
    expect(lines[0]).toMatch(/2\.00 times +at least 3 +MISSED/);
    expect(lines[1]).toMatch(/1\.00 times +below 1\.2 +holds/);
    expect(lines[2]).toMatch(/- +at least 3 +not judged/);
  });

  it("say how many times as fast as the script the command is, or that there is none", () => {
    expect(generalPurposeCheck("x", runs(1, 1), runs(3, 3), 5)).toMatchObject({
      value: 3,
      bar: { atLeast: 5 },
    });
    expect(generalPurposeCheck("x", runs(1), undefined, 5)).toMatchObject({
      value: null,
      note: expect.stringContaining("skipped"),
    });
  });
});
