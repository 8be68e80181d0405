import { appendFileSync, utimesSync } from "node:fs";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { openFrames, parseRawLayout } from "@frontpace/frame-loader";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { findInTake } from "../../src/search/find-in-take.js";
import { settleSearch, shortestFrames } from "../../src/settings/settle-search.js";
import { range, renderTake, temporaryFolder } from "../render-take.js";
import { writeRawTake } from "../write-raw-take.js";

const front = { frame: 4100, pixelsPerFrame: 1, stays: true };

describe("findInTake", async () => {
  const root = await temporaryFolder();
  const file = join(root, "tile.bin");
  const raw = await writeRawTake(file, { frames: 6000, events: [front] });
  const validate = new Ajv2020({ strict: true }).compile(
    JSON.parse(await readFile(new URL("../../schema/events.schema.json", import.meta.url), "utf8")),
  );

  it("names the frames of a front in a long file, reads few, and its events.json fits the schema", async () => {
    const { events, take, activity } = await findInTake(file, { raw });
    expect(events.events).toHaveLength(1);
    const [{ firstFrame, lastFrame, kind }] = events.events;
    expect(kind).toBe("stays");
    // The step is a few pixels wide: its foot is seen before it is a noise level high, and its tail behind.
    expect(Math.abs(firstFrame - 4100)).toBeLessThanOrEqual(3);
    expect(Math.abs(lastFrame - (4100 + 4 + 64))).toBeLessThanOrEqual(5);
    expect(events.framesRead).toBeLessThan(1500);
    expect(Object.keys(events).slice(0, 5)).toEqual(["format", "version", "frames", "framesRead", "events"]);
    expect(Object.keys(events.events[0])).toEqual([
      "firstFrame",
      "lastFrame",
      "kind",
      "strength",
      "certainty",
    ]);
    expect(validate(JSON.parse(JSON.stringify(events))), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...events, extra: 1 })).toBe(false);
    expect(take).toMatchObject({ name: "tile.bin", firstFrame: 0, lastFrame: 5999, rateHz: null });
    const [greatest] = [...activity].sort((a, b) => b.strength - a.strength);
    expect(Math.abs(greatest.frame - 4130)).toBeLessThan(60);
  });

  it("names what it left out: a bar at the lower edge that is another in every frame", async () => {
    const barred = join(root, "barred.bin");
    const layout = await writeRawTake(barred, { frames: 1200, rows: 48, bar: true });
    const { events } = await findInTake(barred, { raw: layout });
    expect(events.events).toEqual([]);
    expect(events.written).toHaveLength(1);
    const [{ row, column, ...size }] = events.written!;
    expect(row).toBeLessThanOrEqual(40);
    expect(row + size.rows).toBe(48);
    expect(column).toBeLessThanOrEqual(10);
    expect(column + size.columns).toBeGreaterThanOrEqual(30);
    expect(validate(JSON.parse(JSON.stringify(events))), JSON.stringify(validate.errors)).toBe(true);
    expect((await findInTake(file, { raw })).events).not.toHaveProperty("written");
  });

  it("opens and looks as NAME.take.json says, and options win over it", async () => {
    const noted = join(root, "noted.bin");
    const layout = await writeRawTake(noted, { frames: 3000, events: [{ ...front, frame: 1000 }] });
    const known = { format: "frontpace-take", version: 1, raw: layout, rateHz: 1e6, frameStep: 2 };
    await writeFile(join(root, "noted.take.json"), JSON.stringify({ ...known, firstFrame: 2400 }));
    const later = await findInTake(noted);
    expect(later.events).toMatchObject({ frames: 1800, shortestFrames: 32, events: [] });
    expect(later.take).toMatchObject({ rateHz: 1e6, firstFrame: 2400, lastFrame: 5998, frameStep: 2 });
    const all = await findInTake(noted, { firstFrame: 0, rateHz: 4e6, shortestFrames: 50 });
    expect(all.events).toMatchObject({ frames: 3000, shortestFrames: 50 });
    expect(all.events.events).toHaveLength(1);
    expect(Math.abs(all.events.events[0].firstFrame - 2000)).toBeLessThanOrEqual(6);
  });

  it("finds the frame numbers of stills, and only in the region or about the path that is looked at", async () => {
    const folder = await renderTake(join(root, "stills"), {
      numbers: range(-60, 59),
      pixelsPerFrame: 4,
      start: 0,
    });
    const { events } = await findInTake(folder);
    expect(events.events).toHaveLength(1);
    expect(Math.abs(events.events[0].firstFrame)).toBeLessThanOrEqual(1);
    const part = { firstFrame: -60, lastFrame: 10 };
    const lines = {
      region: [
        [90, 15],
        [60, 0],
      ],
      path: [
        [60, 8],
        [90, 8],
      ],
    } as const;
    for (const [key, value] of Object.entries(lines)) {
      const aside = await findInTake(folder, { ...part, [key]: value });
      expect(aside.events.events, key).toEqual([]);
    }
    expect((await findInTake(folder, part)).events.events).toHaveLength(1);
  });

  it("says what was looked for where nothing happens, and the weakest event it names is found", async () => {
    const still = join(root, "still.bin");
    await writeRawTake(still, { frames: 4000 });
    const { events } = await findInTake(still, { raw, rateHz: 5e5 });
    expect(events.events).toEqual([]);
    expect(events.passingSought).toBe(true);
    expect(validate(JSON.parse(JSON.stringify(events)))).toBe(true);
    const { brightness, rows, columns } = events.weakestSeen!;
    expect(events.notFound).toEqual({
      reason: "no-event",
      message: `4000 frames were searched for changes of the picture that stay, and for what passes and lasts at least 32 frames; the weakest event that would have been seen changes an area of ${columns} x ${rows} px by ${Number(brightness.toPrecision(2))} units of brightness`,
    });
    const weak = join(root, "weak.bin");
    const faint = { frame: 2000, pixelsPerFrame: 1, stays: true, contrast: Math.ceil(brightness) };
    await writeRawTake(weak, { frames: 4000, events: [faint] });
    const found = await findInTake(weak, { raw, rateHz: 5e5 });
    expect(found.events.events).toHaveLength(1);
    expect(found.events.notFound).toBeUndefined();
  });

  it("tells one frame in the singular, and that it is too few", async () => {
    const single = join(root, "single.bin");
    await writeRawTake(single, { frames: 1 });
    const { events } = await findInTake(single, { raw });
    expect(events.notFound!.message).toMatch(
      /^one frame was searched for .+; there are too few frames to tell/,
    );
  });

  it("looks at an open sequence and leaves it open", async () => {
    const frames = await openFrames(file, { raw: parseRawLayout(raw)! });
    const { events } = await findInTake({ frames });
    expect(events).toEqual((await findInTake(file, { raw })).events);
    expect((await frames.read(0)).shape).toEqual([12, 64]);
    await expect(findInTake({ frames }, { raw })).rejects.toMatchObject({ code: "invalid-value" });
    await frames.close();
  });

  it.each(["grows", "is written over"])(
    "rejects a file that %s while it is searched, also where nothing happens in it",
    async (how) => {
      const growing = join(root, "growing.bin");
      await writeRawTake(growing, { frames: 3000 });
      let done = false;
      const onProgress = () => {
        if (done) return;
        done = true;
        if (how === "grows") appendFileSync(growing, new Uint8Array(64 * 12));
        else utimesSync(growing, new Date(), new Date(Date.now() + 5000));
      };
      await expect(findInTake(growing, { raw }, { onProgress })).rejects.toMatchObject({
        code: "changed-frame",
        message: expect.stringContaining("growing.bin was written to after it was opened"),
      });
      expect(done).toBe(true);
    },
  );

  it("names a lamp that is switched on as a change of the light, which is no event", async () => {
    const lit = join(root, "lit.bin");
    await writeRawTake(lit, { frames: 3000, lamp: { frame: 1200, brighter: 40 } });
    const { events } = await findInTake(lit, { raw });
    expect(events.events).toEqual([]);
    expect(events.lightChanges).toMatchObject([{ firstFrame: 1200, lastFrame: 1200 }]);
    expect(Math.abs(events.lightChanges![0].factor - 100 / 60)).toBeLessThan(0.02);
    expect(events.notFound!.message).toContain("the light changes everywhere at once in frame 1200, as when");
    expect(validate(JSON.parse(JSON.stringify(events)))).toBe(true);
  });

  it("refuses samples that are no numbers, naming the frame", async () => {
    const floats = join(root, "floats.bin");
    const samples = new Float32Array(200 * 16).fill(1);
    samples[120 * 16 + 5] = Number.NaN;
    await writeFile(floats, samples);
    await expect(findInTake(floats, { raw: "4x4:f32le" })).rejects.toMatchObject({
      name: "TakeError",
      code: "samples-not-finite",
      message: expect.stringContaining("frame 120 "),
    });
  });

  const two = [
    [0, 0],
    [5, 5],
  ] as const;
  it.each([
    [
      { region: [two[0], [64, 5]] },
      "region-outside",
      "x from 0 to 63 and y from 0 to 11, got the corner 64,5",
    ],
    [{ region: two, path: two }, "invalid-value", "region must stand alone"],
    [{ region: two, width: 3 }, "invalid-value", "region must stand alone"],
    [{ width: 3 }, "invalid-value", "width must come with a path, got 3 alone"],
    [{ path: [two[0], [0, 12]] }, "path-outside", "got the point 0,12"],
    [{ path: [two[0], two[0]] }, "path-empty", "at least 1 px long"],
    [{ firstFrame: 6000 }, "frames-outside", "got 6000"],
    [{ firstFrame: 9, lastFrame: 8 }, "invalid-value", "firstFrame must be <= lastFrame, got 9 and 8"],
    [{ shortestFrames: 0 }, "invalid-value", "shortestFrames must be a whole number >= 1"],
    [{ shortestFrame: 3 }, "unknown-key", 'the nearest known key is "shortestFrames"'],
    [{ metresPerPixel: 1 }, "unknown-key", "unknown key"],
  ])("%j is refused", async (options, code, words) => {
    await expect(findInTake(file, { raw, ...(options as object) })).rejects.toMatchObject({
      code,
      message: expect.stringContaining(words),
    });
  });

  it("rejects with the reason of the signal, before and during the reading of frames", async () => {
    const reason = new Error("enough");
    await expect(findInTake(file, { raw }, { signal: AbortSignal.abort(reason) })).rejects.toBe(reason);
    const controller = new AbortController();
    const context = { signal: controller.signal, onProgress: () => controller.abort(reason) };
    await expect(findInTake(file, { raw }, context)).rejects.toBe(reason);
  });
});

describe("settleSearch", () => {
  it("takes 64 us at the rate as the shortest event, at least 8 frames, 32 without a rate", () => {
    expect(shortestFrames(null, 1)).toBe(32);
    expect(shortestFrames(null, 10)).toBe(32);
    expect(shortestFrames(1e6, 1)).toBe(64);
    expect(shortestFrames(1e6, 4)).toBe(16);
    expect(shortestFrames(1e3, 1)).toBe(8);
  });

  it("leaves path and width of take.json aside where a region is given", () => {
    const file = {
      format: "frontpace-take" as const,
      version: 1 as const,
      path: [
        [0, 0],
        [9, 0],
      ] as [[number, number], [number, number]],
      width: 3,
    };
    expect(settleSearch({}, file)).toMatchObject({ path: file.path, width: 3, region: null });
    const region = [
      [1, 1],
      [4, 4],
    ] as [[number, number], [number, number]];
    expect(settleSearch({ region }, file)).toMatchObject({ path: null, width: null, region });
  });
});
