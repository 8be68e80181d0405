import { createHash } from "node:crypto";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { clockedRate } from "@frontpace/checker";
import { studentFactor } from "@frontpace/fit";
import { planModes, readModes } from "@frontpace/planner";
import { describe, expect, it } from "vitest";
import { checkTake } from "../../src/checking/dry-check.js";
import { readClock } from "../../src/checking/read-clock.js";
import { measureTake } from "../../src/measure-take.js";
import { assemblePlan } from "../../src/planning/assemble-plan.js";
import { checkSchema } from "../../src/schemas/check-schema.js";
import type { DryCheckOptions, TakeCheck, TakeFrames } from "../../src/types.js";
import { type DryScene, dryTake, writeStill } from "../render-dry-take.js";
import { range, renderTake, seededNormal, temporaryFolder } from "../render-take.js";

const root = await temporaryFolder();
const along: DryCheckOptions = {
  path: [
    [2, 16],
    [117, 16],
  ],
  width: 15,
};

async function checked(scene: DryScene, options: DryCheckOptions = along): Promise<TakeCheck> {
  return (await checkTake({ frames: dryTake(scene) }, options)).check;
}

function line(check: TakeCheck, name: TakeCheck["lines"][number]["check"]) {
  const found = check.lines.find((one) => one.check === name);
  if (!found) throw new Error(`no line ${name}`);
  return found;
}

/** A front that runs to the right through a take, from 4 px outside. */
function withFront(frames: TakeFrames, pixelsPerFrame: number, step: number): TakeFrames {
  return {
    ...frames,
    async *frames(range, region) {
      for await (const { index, number, frame } of frames.frames(range, region)) {
        const column = region?.column ?? 0;
        const [rows, columns] = frame.shape;
        for (let y = 0; y < rows; y++)
          for (let x = 0; x < columns; x++)
            if (x + column < pixelsPerFrame * number - 4) frame.set(y, x, frame.get(y, x) + step);
        yield { index, number, frame };
      }
    },
  };
}

const verdicts = (check: TakeCheck) => Object.fromEntries(check.lines.map((one) => [one.check, one.verdict]));

describe("the dry check of a take of known truth", () => {
  it("passes every line of a sharp, steady, well lit one, and fits its schema", async () => {
    const check = await checked({});
    expect(verdicts(check)).toEqual({
      focus: "pass",
      exposure: "pass",
      noise: "pass",
      light: "pass",
      frames: "pass",
      pattern: "pass",
      drift: "pass",
    });
    expect(check.passed).toBe(true);
    expect(checkSchema.parse(JSON.parse(JSON.stringify(check)))).toEqual(check);
    expect(await checked({})).toEqual(check);
  });

  it.each([0.7, 1.5, 3])("tells a blur of %f px along the path to 5 %", async (blur) => {
    const { values, verdict } = line(await checked({ blur }), "focus");
    const seen = Math.hypot(blur, Math.sqrt(1 / 12)) / Math.cos((6 * Math.PI) / 180);
    expect(Math.abs(values.blurPixels! / seen - 1)).toBeLessThan(0.05);
    expect(verdict).toBe(blur > 2 ? "warn" : "pass");
  });

  it.each([2, 6])("tells a noise of %f DN to 10 %", async (noise) => {
    const { values } = line(await checked({ noise }), "noise");
    const truth = Math.hypot(noise, Math.sqrt(1 / 12));
    // 15 rows in 60 frames; the count of independent rows is told to some 5 %.
    expect(Math.abs(values.pixelNoise! / truth - 1)).toBeLessThan(0.1);
    expect(Math.abs(values.smallestStep! / ((5 * truth) / Math.sqrt(15)) - 1)).toBeLessThan(0.1);
  });

  it("the smallest step let through is one that measure measures", async () => {
    const { values } = line(await checked({ noise: 6, blur: null }), "noise");
    const frames = dryTake({ frames: 60, noise: 6, blur: null, seed: 8 });
    const running = withFront(frames, 2.2, Math.round(values.smallestStep!));
    const { result } = await measureTake(
      { frames: running },
      { ...along, rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 1e-4, metresPerPixelUncertainty: 0 },
    );
    if (result.status !== "measured") throw new Error(result.status);
    expect(Math.abs(result.speed.value - 22)).toBeLessThan(result.speed.expandedUncertainty);
  });

  it.each([
    [0.05, 12.3],
    [0.2, 7.7],
    [0.3, 25],
  ])("tells a flicker of %f peak to peak and a period of %f frames", async (depth, period) => {
    const light = (n: number) => 1 + (depth / 2) * Math.sin((2 * Math.PI * n) / period);
    const { values, verdict, message } = line(
      await checked({ light, frames: 100 }, { ...along, rateHz: 1000 }),
      "light",
    );
    expect(verdict).toBe("warn");
    expect(Math.abs(values.depth! / depth - 1)).toBeLessThan(0.05);
    expect(Math.abs(values.periodFrames! - period)).toBeLessThan(4 * values.periodUncertaintyFrames!);
    expect(values.periodUncertaintyFrames!).toBeLessThan(0.01 * period);
    expect(Math.abs(values.frequencyHz! / (1000 / period) - 1)).toBeLessThan(0.01);
    expect(message).toContain("peak to peak");
  });

  it("tells the ripple of a lamp in pulses, by its own period where that is longer than two frames", async () => {
    // Lit for 30 % of 4.4 frames, an exposure of half an interval; the depth by brute force over the exposure.
    const lit = (t: number) => ((t / 4.4) % 1 < 0.3 ? 1.2 : 0.9);
    const light = (n: number) => {
      let sum = 0;
      for (let k = 0; k < 200; k++) sum += lit(n + (k + 0.5) / 400) / 200;
      return sum;
    };
    const { values, advice } = line(await checked({ light, frames: 120 }), "light");
    expect(Math.abs(values.periodFrames! - 4.4)).toBeLessThan(0.01);
    const gains = Array.from({ length: 120 }, (_, n) => light(n));
    const mean = gains.reduce((sum, gain) => sum + gain / 120, 0);
    const truth = (Math.max(...gains) - Math.min(...gains)) / mean;
    expect(Math.abs(values.depth! / truth - 1)).toBeLessThan(0.1);
    expect(advice).toContain("pulse-width");
  });

  it("tells a slow drift of the light from flicker", async () => {
    const { values, message, verdict } = line(await checked({ light: (n) => 1 + 0.002 * n }), "light");
    expect(verdict).toBe("warn");
    expect(values.periodFrames).toBeNull();
    expect(Math.abs(values.depth! / (0.118 / 1.059) - 1)).toBeLessThan(0.05);
    expect(message).toContain("not in a period that shows");
  });

  it("tells how far the camera drifts and shakes", async () => {
    const drift = line(await checked({ shift: (n) => [0.015 * n, 0], blur: null }), "drift");
    expect(drift.verdict).toBe("warn");
    expect(Math.abs(drift.values.alongPixels! - 0.885)).toBeLessThan(0.12);
    const shake = line(await checked({ shift: (n) => [0, 1.5 * Math.sin(n / 7)], blur: null }, {}), "drift");
    expect(Math.abs(shake.values.acrossPixels! - 3)).toBeLessThan(0.3);
  });

  it.each([
    ["across the edge", [0.015, 0]],
    ["along the edge", [-0.015 * Math.tan((6 * Math.PI) / 180), 0.015]],
  ] as const)("of one edge alone tells a drift %s as what of it is across", async (_, [dx, dy]) => {
    const { verdict, values, message } = line(
      await checked({ shift: (n) => [dx * n, dy * n], texture: false }),
      "drift",
    );
    const slant = (6 * Math.PI) / 180;
    const across = 59 * Math.abs(dx * Math.cos(slant) + dy * Math.sin(slant));
    expect(values.alongPixels).toBeNull();
    // Peak to peak of 60 frames, whose noise adds some four standard uncertainties of one.
    expect(values.acrossEdgePixels! - across).toBeGreaterThan(-0.05);
    expect(values.acrossEdgePixels! - across).toBeLessThan(6 * values.standardUncertaintyPixels!);
    expect(values.standardUncertaintyPixels!).toBeLessThan(0.05);
    expect(verdict).toBe(across > 0.1 ? "warn" : "pass");
    expect(message).toContain("along that edge it is not seen");
  });

  it("does not take a front that runs, nor flicker, for a drift of the one edge", async () => {
    const flicker = await checked({ light: (n) => 1 + 0.1 * Math.sin(n / 3), texture: false });
    expect(line(flicker, "drift").verdict).toBe("pass");
    for (const pixelsPerFrame of [0.5, 2.2]) {
      const bare = dryTake({ blur: null, texture: false });
      const { check } = await checkTake({ frames: withFront(bare, pixelsPerFrame, 40) }, along);
      expect(line(check, "drift").verdict).toBe("not-checked");
      expect(line(check, "light").verdict).toBe("warn");
    }
  });

  it("tells saturation and dim light", async () => {
    const bright = line(await checked({ level: 200 }), "exposure");
    expect(bright.verdict).toBe("warn");
    // The brighter half stands at 260 and more.
    expect(bright.values.saturatedShare!).toBeGreaterThan(0.3);
    const dim = line(await checked({ light: () => 0.08, noise: 1, blur: null }), "exposure");
    expect(dim.advice).toContain("more light");
  });

  it.each([200, -45])(
    "tells neither noise nor light of a picture that is clipped in part, at a level of %f DN",
    async (level) => {
      const check = await checked({ level, light: (n) => 1 + 0.1 * Math.sin(n / 3) });
      for (const name of ["noise", "light"] as const) {
        expect(line(check, name)).toMatchObject({ verdict: "not-checked", advice: null, values: {} });
        expect(line(check, name).message).toContain("stand at white or at 0");
      }
    },
  );

  it("names repeated frames, and frames converted to another rate", async () => {
    const frames = dryTake({ frames: 60 });
    const shown = (indexOf: (index: number) => number): TakeFrames => ({
      ...frames,
      async *frames({ start = 0, end = 60 } = {}, region) {
        for (let index = start; index < end; index++)
          for await (const { frame } of frames.frames(
            { start: indexOf(index), end: indexOf(index) + 1 },
            region,
          ))
            yield { index, number: index, frame };
      },
    });
    const lost = shown((index) => (index === 20 || index === 41 ? index - 1 : index));
    const repeated = line((await checkTake({ frames: lost }, along)).check, "frames");
    expect(repeated).toMatchObject({ verdict: "warn", values: { repeated: 2 } });
    expect(repeated.message).toContain("frames 20, 41 repeat");
    const clocked = await checkTake({ frames: lost }, { ...along, rateHz: 1000, clockHz: 50 });
    expect(clocked.check.clock).toBeNull();
    expect(line(clocked.check, "clock")).toMatchObject({ verdict: "not-checked" });
    const converted = shown((index) => Math.floor((index * 4) / 5));
    for (const take of [lost, converted]) {
      const { check } = await checkTake({ frames: take }, along);
      expect(line(check, "light").message).not.toContain("something runs");
    }
    expect(line((await checkTake({ frames: converted }, along)).check, "frames").message).toContain(
      "one of every 5 frames is a copy",
    );
  });

  it("sees the blocks of compressed stills", async () => {
    const folder = join(root, "compressed");
    await mkdir(folder);
    for (let n = 0; n < 12; n++)
      await writeStill(
        join(folder, `f${n}.jpg`),
        dryTake({ frames: 1, seed: n + 1, rows: 96, columns: 160, noise: 6 }),
        0,
        50,
      );
    const { check } = await checkTake(folder, {});
    expect(line(check, "light").message).not.toContain("something runs");
    expect(line(check, "pattern")).toMatchObject({ verdict: "warn" });
    expect(line(check, "pattern").values.blocks!).toBeGreaterThan(0.03);
  });
});

describe("noise that neighbouring pixels share", () => {
  it("is told by the line pattern, and not taken for something that runs", async () => {
    const check = await checked({ frames: 120, noise: 6, texture: false, alike: true });
    expect(line(check, "pattern")).toMatchObject({ verdict: "warn" });
    expect(line(check, "pattern").message).toContain("the noise of neighbouring pixels is alike");
    expect(line(check, "light")).toMatchObject({ verdict: "not-checked" });
    expect(line(check, "light").message).toContain("see the line pattern");
  });
});

describe("the clock lamp", () => {
  const nominal = 10_000;
  /** A lamp in pulses of 40 %, exposed for half an interval: its light by the closed form of the switched wave. */
  const lampOf = (cyclesPerFrame: number, phase: number) => {
    const lit = (x: number) => 0.4 * Math.floor(x) + Math.min(0.4, x - Math.floor(x));
    return (n: number) => {
      const at = cyclesPerFrame * n + phase;
      return (60 * (lit(at + cyclesPerFrame / 2) - lit(at))) / (cyclesPerFrame / 2);
    };
  };

  it("tells the recording rate within its 95 % interval in about 95 % of 240 draws", async () => {
    let held = 0;
    const draws = 240;
    const normal = seededNormal(77);
    for (let seed = 1; seed <= draws; seed++) {
      // The camera runs a little off its stated rate, the lamp off its own within its stated uncertainty.
      const rate = nominal * (1 + 0.002 * normal());
      const lampHz = 730 * (1 + 3e-5 * normal());
      const frames = dryTake({
        frames: 150,
        rows: 8,
        columns: 20,
        blur: null,
        seed: seed + 5000,
        lamp: lampOf(lampHz / rate, seed / 9),
      });
      const exposureSeconds = 0.5 / nominal;
      const options = { clockHz: 730, clockUncertaintyHz: 730 * 3e-5, exposureSeconds };
      const clock = await readClock(frames, { start: 0, end: 150 }, options, nominal, undefined);
      const found = clockedRate(clock!)!;
      const factor = studentFactor(found.degreesOfFreedom);
      if (Math.abs(found.rateHz - rate) < factor * found.rateUncertaintyHz!) held++;
    }
    // 228 with three standard deviations of their count, 3.4
    expect(held).toBeGreaterThanOrEqual(217);
    expect(held).toBeLessThanOrEqual(238);
  });

  it.each([101.3, 250.03])(
    "does not believe more than it sees of a lamp of %f Hz switched in step with 1000 short exposures a second",
    async (lampHz) => {
      let held = 0;
      for (let seed = 1; seed <= 100; seed++) {
        // At an instant each: the whole series slips by less than two of the frames in a cycle.
        const rate = 1000 * (1 + 0.00012 * (seed - 50));
        const lamp = (n: number) => (((lampHz / rate) * n + seed / 7) % 1 < 0.5 ? 60 : 0);
        const frames = dryTake({ frames: 80, rows: 8, columns: 20, blur: null, seed: seed + 9000, lamp });
        const options = { clockHz: lampHz, clockUncertaintyHz: 0 };
        const clock = await readClock(frames, { start: 0, end: 80 }, options, 1000, undefined);
        const found = clockedRate(clock!)!;
        if (Math.abs(found.rateHz - rate) < 2 * found.rateUncertaintyHz!) held++;
      }
      expect(held).toBeGreaterThanOrEqual(93);
    },
  );

  it.each([
    [0.02, 0.5],
    [0.2, 10],
  ])(
    "holds the rate of frames that are exposed for %f of an interval by switched lamps of any frequency, noise %f DN",
    async (exposed, noise) => {
      let held = 0;
      const normal = seededNormal(23);
      for (let draw = 0; draw < 100; draw++) {
        const count = [100, 200, 300][draw % 3];
        const cycles = 0.025 + 0.05 * ((draw * 0.618034 + 0.3) % 1);
        const phase = (draw * 0.754878) % 1;
        const lit = (x: number) => 0.5 * Math.floor(x) + Math.min(0.5, x - Math.floor(x));
        const lamp = (n: number) => {
          const at = cycles * n + phase;
          return (120 * (lit(at + exposed * cycles) - lit(at))) / (exposed * cycles);
        };
        const scene = { rows: 8, columns: 20, blur: null, noise, lamp, seed: draw + 7000 };
        const frames = dryTake({ ...scene, frames: count });
        const rate = nominal * (1 + 0.003 * normal());
        const options = { clockHz: cycles * rate, clockUncertaintyHz: 0, exposureSeconds: exposed / rate };
        const clock = await readClock(frames, { start: 0, end: count }, options, nominal, undefined);
        const found = clockedRate(clock!)!;
        if (Math.abs(found.rateHz - rate) < 1.96 * found.rateUncertaintyHz!) held++;
      }
      expect(held).toBeGreaterThanOrEqual(92);
    },
  );

  it.each([0.93, 1.056, 1.08])(
    "gives no rate where the lamp repeats at %f times what its frequency and the stated rate make expected",
    async (times) => {
      const frames = dryTake({ frames: 200, lamp: lampOf((times * 730) / nominal, 0.2) });
      const { check } = await checkTake(
        { frames },
        { ...along, rateHz: nominal, clockHz: 730, clockUncertaintyHz: 0 },
      );
      expect(check.clock).toBeNull();
      const told = line(check, "clock");
      expect(told).toMatchObject({ verdict: "warn", values: { rateHz: null } });
      expect(told.message).toContain("do not go together");
    },
  );

  it("gives a rate and an uncertainty that measure takes for its budget", async () => {
    const frames = dryTake({ frames: 200, lamp: lampOf(730 / 10_050, 0.2) });
    const options = { ...along, rateHz: nominal, clockHz: 730, clockUncertaintyHz: 0.01 };
    const { check } = await checkTake(
      { frames },
      {
        ...options,
        lamp: [
          [0, 0],
          [5, 31],
        ],
      },
    );
    const { rateHz, rateUncertaintyHz } = check.clock!;
    expect(Math.abs(rateHz - 10_050)).toBeLessThan(3 * rateUncertaintyHz!);
    expect(line(check, "clock").advice).toContain("measure with this rate");
    const take = await renderTake(join(root, "event"), { numbers: range(-4, 40), pixelsPerFrame: 2 });
    const { result } = await measureTake(take, {
      rateHz,
      rateUncertaintyHz: rateUncertaintyHz!,
      metresPerPixel: 1e-4,
      metresPerPixelUncertainty: 0,
    });
    const share = result.speed!.budget.find(({ source }) => source === "rate")!.relative!;
    expect(Math.abs(share / (rateUncertaintyHz! / rateHz) - 1)).toBeLessThan(1e-9);
  });

  it("tells a rate from a lamp faster than the frames, and says where no lamp is seen", async () => {
    const frames = dryTake({ frames: 200, lamp: lampOf(2.3137, 0.2) });
    const { check } = await checkTake(
      { frames },
      { ...along, rateHz: 1000, clockHz: 2313.7, clockUncertaintyHz: 0 },
    );
    expect(Math.abs(check.clock!.rateHz - 1000)).toBeLessThan(3 * check.clock!.rateUncertaintyHz!);
    const none = await checked({}, { ...along, rateHz: 1000, clockHz: 50 });
    expect(none.clock).toBeNull();
    expect(line(none, "clock")).toMatchObject({ verdict: "warn" });
  });
});

describe("the dry check of a still", () => {
  it("tells focus, exposure and pattern, says what it cannot tell, and keeps the still byte for byte", async () => {
    const still = await writeStill(join(root, "still.png"), dryTake({ frames: 1 }));
    const { check, reference } = await checkTake(still, along);
    expect(verdicts(check)).toEqual({
      focus: "pass",
      exposure: "pass",
      noise: "pass",
      light: "not-checked",
      frames: "not-checked",
      pattern: "pass",
      drift: "not-checked",
    });
    const withClock = await checkTake(still, { ...along, rateHz: 1e4, clockHz: 850 });
    expect(line(withClock.check, "clock")).toMatchObject({
      verdict: "not-checked",
      message: "one still does not tell how the lamp repeats",
    });
    const bytes = await readFile(still);
    expect(reference!.file).toBe("reference.png");
    expect(Buffer.from(reference!.bytes).equals(bytes)).toBe(true);
    expect(check.reference).toEqual({
      file: "reference.png",
      frame: 0,
      sha256: createHash("sha256").update(bytes).digest("hex"),
    });
  });

  it("of a take the first frame looked at is kept", async () => {
    const take = await renderTake(join(root, "kept"), { numbers: range(0, 9), pixelsPerFrame: 0 });
    const { check, reference } = await checkTake(take, { firstFrame: 3 });
    expect(check.reference).toMatchObject({ file: "reference.png", frame: 3 });
    expect(Buffer.from(reference!.bytes).equals(await readFile(join(take, "0003.png")))).toBe(true);
  });
});

describe("the mode against the plan", async () => {
  const request = {
    speedMetresPerSecond: { low: 38, high: 42 },
    lengthMetres: 0.0192,
    exposureSeconds: 5e-6,
  };
  const planned = planModes(readModes("columns,rows,max_rate\n120,32,100000"), request);
  const { plan } = assemblePlan(planned, { take: null, material: null, request, cautions: [] });
  const file = join(root, "plan.json");
  await writeFile(file, JSON.stringify(plan));
  const set = { ...along, plan: file, rateHz: 1e5, exposureSeconds: 5e-6 };

  it("passes as planned, and names size, rate and exposure that differ or are not stated", async () => {
    expect(line(await checked({}, set), "mode").verdict).toBe("pass");
    const other = line(await checked({ rows: 40 }, { ...set, rateHz: 8e4 }), "mode");
    expect(other.verdict).toBe("warn");
    expect(other.message).toContain(
      "rows 40 px, planned 32 px; rate 80000 frames/s, planned 100000 frames/s",
    );
    const longer = line(await checked({}, { ...set, exposureSeconds: 8.4e-7 }), "mode");
    expect(longer.message).toContain("exposure 840 ns, planned 5 us");
    const { exposureSeconds: _, ...unstated } = set;
    expect(line(await checked({}, unstated), "mode").message).toContain("not stated in the take: exposure");
  });

  it("a plan for another take is held against the dry run all the same, with a warning", async () => {
    const named = assemblePlan(planned, { take: "tile-07", material: null, request, cautions: [] });
    await writeFile(join(root, "other.json"), JSON.stringify(named.plan));
    const check = await checked({}, { ...set, plan: join(root, "other.json") });
    expect(line(check, "mode").verdict).toBe("pass");
    expect(check.warnings).toContainEqual({
      code: "plan-of-another-take",
      message: expect.stringContaining("made for the take tile-07"),
    });
  });
});

describe("bad input of a dry check", () => {
  it.each<[string, DryCheckOptions, string, string]>([
    [
      "a lamp without its frequency",
      {
        lamp: [
          [0, 0],
          [3, 3],
        ],
      },
      "invalid-value",
      "lamp belongs to a lamp of known frequency, and that is not given: add clockHz, or --clock",
    ],
    ["a clock without a rate", { clockHz: 50 }, "rate-missing", "the recording rate"],
    [
      "a lamp outside",
      {
        clockHz: 50,
        rateHz: 1000,
        lamp: [
          [0, 0],
          [300, 3],
        ],
      },
      "region-outside",
      "lamp must lie inside the picture",
    ],
    [
      "a path outside",
      {
        path: [
          [0, 0],
          [500, 0],
        ],
      },
      "path-outside",
      "path must lie inside",
    ],
    [
      "an exposure longer than the interval",
      { rateHz: 1000, exposureSeconds: 0.1 },
      "exposure-too-long",
      "exposureSeconds must not",
    ],
    ["frames that are not there", { firstFrame: 900 }, "frames-outside", "firstFrame must lie in the take"],
    ["a plan that is not there", { plan: join(root, "none.json") }, "file-unreadable", "none.json"],
    ["a negative frequency", { clockHz: -3 }, "invalid-value", "clockHz must be a finite number > 0"],
  ])("%s is named", async (_, options, code, words) => {
    await expect(checked({ frames: 12 }, options)).rejects.toMatchObject({
      code,
      message: expect.stringContaining(words),
    });
  });
});
