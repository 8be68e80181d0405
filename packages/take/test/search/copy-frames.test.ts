import { mkdir, readdir, readFile, symlink, writeFile } from "node:fs/promises";
import { join, relative } from "node:path";
import { openFrames } from "@frontpace/frame-loader";
import { describe, expect, it } from "vitest";
import { copyFrames } from "../../src/search/copy-frames.js";
import { eventRange } from "../../src/search/event-range.js";
import { range, renderTake, temporaryFolder } from "../render-take.js";
import { writeRawTake } from "../write-raw-take.js";

describe("copyFrames", async () => {
  const root = await temporaryFolder();
  const event = { firstFrame: 20, lastFrame: 24, marginFrames: 3 };
  const file = join(root, "tile.bin");
  const raw = await writeRawTake(file, { frames: 100 });
  const hidden = async () => (await readdir(root)).filter((name) => name.startsWith("."));

  it("gives a take with the samples and numbers of the file, and what is known of it but layout and plan", async () => {
    await writeFile(
      join(root, "tile.take.json"),
      JSON.stringify({
        format: "frontpace-take",
        version: 1,
        raw,
        rateHz: 1e6,
        rateUncertaintyHz: 1,
        firstFrame: 5,
        plan: "tile-plan/plan.json",
        notes: "second lens",
      }),
    );
    const folder = join(root, "made", "copy");
    const copied = await copyFrames(file, folder, { ...event, options: { rateHz: 5e5, width: 4 } });
    expect(copied).toEqual({ frames: 11, firstFrame: 17, lastFrame: 27 });
    expect(JSON.parse(await readFile(join(folder, "take.json"), "utf8"))).toEqual({
      format: "frontpace-take",
      version: 1,
      rateHz: 5e5,
      width: 4,
      notes: "second lens",
      copiedFrom: relative(folder, file),
    });
    const copy = await openFrames(folder);
    expect(copy.numbers).toEqual(range(17, 27));
    const stored = await readFile(file);
    for (const [i, number] of copy.numbers.entries())
      expect(Array.from((await copy.read(i)).data)).toEqual([
        ...stored.subarray(768 * number, 768 * (number + 1)),
      ]);
    await copy.close();
    expect(await readdir(join(root, "made"))).toEqual(["copy"]);
  });

  it("refuses a link to an empty folder before it reads a frame: a complete one could not take its place", async () => {
    await mkdir(join(root, "linked"));
    await symlink(join(root, "linked"), join(root, "link"));
    await expect(copyFrames(file, join(root, "link"), event)).rejects.toMatchObject({
      code: "output-not-writable",
      message: expect.stringContaining("is a link"),
    });
    expect(await readdir(join(root, "linked"))).toEqual([]);
  });

  it("names the calibration from where the copy stands", async () => {
    const take = await renderTake(join(root, "placed", "stills"), {
      numbers: range(0, 40),
      pixelsPerFrame: 2,
    });
    const known = { format: "frontpace-take", version: 1, calibration: "../scale.json" };
    await writeFile(join(take, "take.json"), JSON.stringify(known));
    const folder = join(root, "elsewhere");
    await copyFrames(take, folder, event);
    const copied = JSON.parse(await readFile(join(folder, "take.json"), "utf8"));
    expect(copied.calibration).toBe("../placed/scale.json");
  });

  it("copies stills byte for byte under their names, into an empty folder too", async () => {
    const take = await renderTake(join(root, "stills"), { numbers: range(0, 40), pixelsPerFrame: 2 });
    const folder = join(root, "empty");
    await mkdir(folder);
    expect(await copyFrames(take, folder, event)).toEqual({ frames: 11, firstFrame: 17, lastFrame: 27 });
    const names = range(17, 27).map((number) => `00${number}.png`);
    expect((await readdir(folder)).sort()).toEqual([...names, "take.json"]);
    for (const name of names)
      expect(await readFile(join(folder, name))).toEqual(await readFile(join(take, name)));
  });

  it("touches no folder that holds something, and no file", async () => {
    const code = {
      [root]: "copy-not-empty",
      [file]: "output-not-writable",
      [join(file, "x")]: "output-not-writable",
    };
    for (const folder of Object.keys(code))
      await expect(copyFrames(file, folder, event)).rejects.toMatchObject({
        code: code[folder],
        fields: { file: folder },
      });
    expect(await hidden()).toEqual([]);
  });

  it("leaves nothing where a still is damaged, or when it is stopped half way", async () => {
    const take = await renderTake(join(root, "changing"), { numbers: range(0, 40), pixelsPerFrame: 2 });
    const folder = join(root, "never");
    const reason = new Error("enough");
    const controller = new AbortController();
    const seen: number[] = [];
    const context = {
      signal: controller.signal,
      onProgress: ({ stage, done }: { stage: string; done: number }) => {
        if (stage !== "copying") return;
        seen.push(done);
        controller.abort(reason);
      },
    };
    await expect(copyFrames(take, folder, event, context)).rejects.toBe(reason);
    expect(seen[0]).toBe(1);
    const change = {
      onProgress: ({ stage }: { stage: string }) => {
        if (stage === "copying") void writeFile(join(take, "0027.png"), "other");
      },
    };
    await expect(copyFrames(take, folder, { ...event, marginFrames: 10 }, change)).rejects.toMatchObject({
      code: "changed-frame",
    });
    expect(await readdir(root)).not.toContain("never");
    expect(await hidden()).toEqual([]);
  });

  it("refuses frames that are not in the take, and margins that are none", async () => {
    const folder = join(root, "wrong");
    await expect(copyFrames(file, folder, { firstFrame: 90, lastFrame: 100 })).rejects.toMatchObject({
      code: "frames-outside",
    });
    await expect(copyFrames(file, folder, { ...event, marginFrames: -1 })).rejects.toThrow(RangeError);
    expect(await readdir(root)).not.toContain("wrong");
  });
});

describe("eventRange", () => {
  const numbers = range(0, 4999).map((i) => 10 * i);

  it.each([
    [{ firstFrame: 10_000, lastFrame: 12_000 }, undefined, { start: 1000 - 201, end: 1201 + 201 }],
    [{ firstFrame: 10_000, lastFrame: 10_000 }, undefined, { start: 1000 - 50, end: 1001 + 50 }],
    [{ firstFrame: 10_000, lastFrame: 29_990 }, undefined, { start: 1000 - 500, end: 3000 + 500 }],
    [{ firstFrame: 20, lastFrame: 49_980 }, undefined, { start: 0, end: 5000 }],
    [{ firstFrame: 10_000, lastFrame: 12_000 }, 0, { start: 1000, end: 1201 }],
  ])("gives %j with the margin %s the indices %j", (event, margin, expected) => {
    expect(eventRange(numbers, event, margin)).toEqual(expected);
  });
});
