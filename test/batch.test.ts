import { execFileSync } from "node:child_process";
import { cp, mkdtemp, readdir, readFile, rename, rm, stat, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { crossingScene } from "../scripts/bench/take/scene.js";
import { writeStills } from "../scripts/bench/take/write-stills.js";
import { differences, digests, startBatch, writeDay } from "../scripts/faults/bench-of-takes.js";
import { drill } from "../scripts/faults/drill.js";

const root = await mkdtemp(join(tmpdir(), "frontpace-batch-"));
afterAll(() => rm(root, { recursive: true, force: true }));

/** The built command: build first. */
describe("frontpace batch", { timeout: 300_000 }, () => {
  const day = join(root, "day");
  const reference = join(root, "reference");
  let first: Awaited<ReturnType<typeof startBatch>["end"]>;
  beforeAll(async () => {
    await writeDay(day, 3);
    first = await startBatch(day, reference, ["--workers", "1"]).end;
  }, 300_000);

  it("measures every take, writes a summary, says how many of each, and exits 0", async () => {
    expect(first).toMatchObject({ code: 0, stderr: "" });
    expect(first.stdout.trimEnd().split("\n").at(-1)).toBe(
      "3 takes: 3 measured, 0 bounded, 0 not found, 0 failed",
    );
    expect((await readdir(reference)).sort()).toEqual(
      expect.arrayContaining(["first-firing", "second-firing", "summary.csv", "summary.json"]),
    );
    const { repeats } = JSON.parse(await readFile(join(reference, "summary.json"), "utf8"));
    expect(repeats).toMatchObject([{ takes: ["first-firing/tile-0", "first-firing/tile-2"] }]);
  });

  it("leaves the bytes that measure leaves", async () => {
    const alone = join(root, "alone");
    const take = join(day, "second-firing", "tile-1");
    const options = ["--rate", "100k+-10", "--scale", "0.2mm+-1um", "--out", alone];
    execFileSync(process.execPath, ["packages/cli/bin/frontpace.js", "measure", take, ...options], {
      stdio: "ignore",
    });
    const batch = await digests(join(reference, "second-firing", "tile-1"));
    expect(differences(await digests(alone), batch)).toEqual(["batch.json"]);
  });

  it("leaves the same bytes with two workers as with one", async () => {
    const out = join(root, "two-workers");
    expect((await startBatch(day, out, ["--workers", "2"]).end).code).toBe(0);
    expect(differences(await digests(out), await digests(reference))).toEqual([]);
  });

  it("run again measures nothing again; with another option it does, and a changed file is made good", async () => {
    const out = join(root, "again");
    await cp(reference, out, { recursive: true, preserveTimestamps: true });
    const result = join(out, "first-firing", "tile-0", "result.json");
    const { mtimeMs } = await stat(result);
    const again = await startBatch(day, out).end;
    expect(again.stdout.match(/, as before$/gm)).toHaveLength(3);
    expect((await stat(result)).mtimeMs).toBe(mtimeMs);
    await writeFile(join(out, "first-firing", "tile-0", "streak.png"), "half");
    const mended = await startBatch(day, out).end;
    expect(mended.stdout.match(/, as before$/gm)).toHaveLength(2);
    expect(differences(await digests(out), await digests(reference))).toEqual([]);
    const other = await startBatch(day, out, ["--width", "8"]).end;
    expect(other.stdout).not.toContain("as before");
  });

  it("two runs at once leave what one leaves", async () => {
    const out = join(root, "at-once");
    const ended = await Promise.all([startBatch(day, out).end, startBatch(day, out).end]);
    expect(ended.map(({ code }) => code)).toEqual([0, 0]);
    expect(differences(await digests(out), await digests(reference))).toEqual([]);
  });

  it("two runs at once with other options leave every take whole, of one of them", async () => {
    const out = join(root, "in-conflict");
    await Promise.all([startBatch(day, out, ["--no-pictures"]).end, startBatch(day, out).end]);
    for (const take of ["first-firing/tile-0", "first-firing/tile-2", "second-firing/tile-1"]) {
      const { files, absent } = JSON.parse(await readFile(join(out, take, "batch.json"), "utf8"));
      const { "batch.json": _, ...found } = await digests(join(out, take));
      expect(found).toEqual(files);
      for (const name of absent) expect(found).not.toHaveProperty(name);
    }
  });

  it("exits 3 where a take shows no front, 1 where one fails, which stops no other and leaves no result", async () => {
    const mixed = join(root, "mixed");
    const out = join(root, "mixed-out");
    await cp(join(day, "take.json"), join(mixed, "take.json"));
    await cp(join(day, "first-firing", "tile-0"), join(mixed, "tile-0"), { recursive: true });
    await writeStills(join(mixed, "still"), { ...crossingScene(20, 16, 96, 8), pixelsPerFrame: 0 }, "png");
    expect(await startBatch(mixed, out).end).toMatchObject({ code: 3 });
    const frame = join(mixed, "still", "tile_00005.png");
    await truncate(frame, 500);
    const { code, stdout } = await startBatch(mixed, out).end;
    expect(code).toBe(1);
    expect(stdout).toMatch(/^still +failed: tile_00005\.png is damaged/m);
    expect(stdout).toMatch(/^tile-0 .*, as before$/m);
    expect(stdout.trimEnd()).toMatch(/2 takes: 1 measured, 0 bounded, 0 not found, 1 failed$/);
    expect(await readdir(join(out, "still"))).toEqual([]);
  });

  it("waits for a take that is still being written, and measures it whole", async () => {
    const growing = join(root, "growing");
    const out = join(root, "growing-out");
    await cp(day, growing, { recursive: true });
    const frame = join(growing, "first-firing", "tile-0", "tile_00012.png");
    const whole = await readFile(frame);
    await writeFile(frame, whole.subarray(0, 200));
    const { end } = startBatch(growing, out);
    const touching = (async () => {
      for (let k = 0; k < 6; k++) {
        await wait(1000);
        await writeFile(frame, whole.subarray(0, 200 + k));
      }
      await writeFile(frame, whole);
    })();
    const { code } = await end;
    await touching;
    expect(code).toBe(0);
    expect(differences(await digests(out), await digests(reference))).toEqual([]);
  });

  it("exits 2 where the files would go into one of the takes, and says so where there is no take", async () => {
    const into = await startBatch(day, join(day, "first-firing", "tile-0")).end;
    expect(into).toMatchObject({ code: 2, stdout: "" });
    expect(into.stderr).toContain("among the frames");
    const none = await startBatch(join(reference, "first-firing", "tile-0"), join(root, "of-none")).end;
    expect(none).toMatchObject({ code: 3, stderr: expect.stringContaining("no take was found below") });
    expect(none.stdout.trimEnd()).toMatch(/0 takes: 0 measured, 0 bounded, 0 not found, 0 failed$/);
  });

  it("exits 2 for a folder that is not there and for a number of workers that is none", async () => {
    expect((await startBatch(join(root, "absent"), join(root, "none")).end).code).toBe(2);
    const { code, stderr } = await startBatch(day, join(root, "none"), ["--workers", "0"]).end;
    expect(code).toBe(2);
    expect(stderr).toContain("--workers");
  });

  it("--watch measures takes as they arrive, again where a take.json above them changes, and after an interrupt leaves what one run leaves", async () => {
    const arriving = join(root, "arriving");
    const out = join(root, "arriving-out");
    await cp(join(day, "take.json"), join(arriving, "take.json"));
    const { child, end } = startBatch(arriving, out, ["--watch"]);
    const said = (text: string) =>
      new Promise<void>((resolve) => {
        child.stdout?.on("data", (part) => String(part).includes(text) && resolve());
      });
    const [one, all] = [said("1 take: 1 measured"), said("3 takes: 3 measured")];
    await cp(join(day, "second-firing"), join(arriving, "second-firing"), { recursive: true });
    await one;
    await cp(join(day, "first-firing"), join(arriving, "first-firing"), { recursive: true });
    await all;
    // A take.json above them says otherwise, and then as before.
    const above = await readFile(join(arriving, "take.json"), "utf8");
    const speed = async () =>
      JSON.parse(await readFile(join(out, "second-firing", "tile-1", "result.json"), "utf8")).speed.value;
    const [before, twice] = [await speed(), said("3 takes: 3 measured")];
    await writeFile(join(arriving, "take.json"), JSON.stringify({ ...JSON.parse(above), rateHz: 200e3 }));
    await twice;
    expect(Math.abs((await speed()) / before - 2)).toBeLessThan(1e-9);
    const again = said("3 takes: 3 measured");
    await writeFile(join(arriving, "take.json"), above);
    await again;
    child.kill("SIGINT");
    expect((await end).code).toBe(130);
    expect(differences(await digests(out), await digests(reference))).toEqual([]);
  });

  it("--watch goes on after the folder was away for a while, and measures again what could not be written", async () => {
    const watched = join(root, "watched");
    const out = join(root, "watched-out");
    await cp(join(day, "take.json"), join(watched, "take.json"));
    await cp(join(day, "second-firing"), join(watched, "second-firing"), { recursive: true });
    const { child, end } = startBatch(watched, out, ["--watch"]);
    const said = (text: string, stream = child.stdout) =>
      new Promise<void>((resolve, reject) => {
        stream?.on("data", (part) => String(part).includes(text) && resolve());
        void end.then(() => reject(new Error(`ended before it said "${text}"`)));
      });
    await said("1 take: 1 measured");
    const away = said("does not exist", child.stderr);
    await rename(watched, join(root, "away"));
    await away;
    const inTheWay = join(out, "first-firing");
    await writeFile(inTheWay, "");
    const failing = said("3 takes: 1 measured, 0 bounded, 0 not found, 2 failed");
    await rename(join(root, "away"), watched);
    await cp(join(day, "first-firing"), join(watched, "first-firing"), { recursive: true });
    await failing;
    const all = said("3 takes: 3 measured");
    await rm(inTheWay);
    await all;
    child.kill("SIGINT");
    expect((await end).code).toBe(130);
    expect(differences(await digests(out), await digests(reference))).toEqual([]);
  });

  it("exits 130 on an interrupt, and run again ends as if undisturbed", async () => {
    const out = join(root, "interrupted");
    const { child, end } = startBatch(day, out, ["--workers", "1"]);
    child.stdout?.once("data", () => child.kill("SIGINT"));
    const { code, stderr } = await end;
    expect(code).toBe(130);
    expect(stderr).toContain("interrupted");
    expect((await startBatch(day, out).end).code).toBe(0);
    expect(differences(await digests(out), await digests(reference))).toEqual([]);
  });
});

describe("the fault drill, in short", { timeout: 600_000 }, () => {
  it("leaves what an undisturbed run leaves", async () => {
    const drilled = await drill({ folder: await mkdtemp(join(root, "drill-")), takes: 2, kills: 3, seed: 7 });
    const tried = drilled.filter(({ wrong }) => wrong !== null);
    // Root without setpriv may read everything.
    expect(tried.length).toBeGreaterThanOrEqual(process.getuid?.() === 0 ? 5 : 9);
    expect(tried.filter(({ wrong }) => wrong!.length > 0)).toEqual([]);
  });
});
