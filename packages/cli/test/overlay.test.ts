import { execFileSync, spawnSync } from "node:child_process";
import { cp, mkdir, readdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { runCaptured } from "./capture.js";

const hasFfmpeg =
  spawnSync("ffmpeg", ["-version"]).status === 0 && spawnSync("ffprobe", ["-version"]).status === 0;

const root = await temporaryFolder();
const drawn = { numbers: range(-4, 50), pixelsPerFrame: 2, start: 0, rows: 40 };
const take = await renderTake(join(root, "tile"), drawn);
const out = join(root, "tile-frontpace");
const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0.5%"];
await runCaptured(["measure", take, ...known, "--no-pictures"]);
const namesIn = async (folder: string) => (await readdir(folder)).sort();

describe("overlay", () => {
  it("writes PNG with transparency at the footage's size, numbered as its frames, without the footage", async () => {
    const moved = join(root, "moved");
    await cp(out, moved, { recursive: true });
    const { code, stdout, stderr } = await runCaptured(["overlay", moved, "--margin", "3"]);
    expect(code).toBe(0);
    expect(stderr).toMatch(/^(warning: (text-moves|left-out|text-absent): in png .*\n)*$/);
    const names = await namesIn(join(moved, "overlay"));
    const result = JSON.parse(await readFile(join(moved, "result.json"), "utf8"));
    const { firstFrame, lastFrame } = result.front;
    const wanted = range(Math.max(-4, firstFrame - 3), Math.min(50, lastFrame + 3));
    expect(names).toHaveLength(wanted.length);
    expect(names).toContain("overlay_0012.png");
    expect(stdout).toContain(`(${wanted.length} files)`);
    const picture = sharp(join(moved, "overlay", "overlay_0012.png"));
    expect(await picture.metadata()).toMatchObject({ width: 96, height: 40, hasAlpha: true });
    // The step of frame 12 was rendered at column 24.
    const { data } = await picture.raw().toBuffer({ resolveWithObject: true });
    const alpha = (column: number) => data[4 * (20 * 96 + column) + 3];
    expect(alpha(24)).toBe(255);
    expect(alpha(30)).toBe(0);
  });

  it("is no take of a batch, wherever it was written and however it is called", async () => {
    const day = join(root, "marked");
    await cp(take, join(day, "tile"), { recursive: true });
    const kinds = hasFfmpeg ? "png,mp4" : "png";
    for (const folder of [join(day, "for the edit"), join(day, "tile")])
      await runCaptured(["overlay", out, "--take", take, "--out", folder, "--as", kinds, "--quiet"]);
    await rename(join(day, "for the edit", "overlay"), join(day, "for the edit", "tile over"));
    if (hasFfmpeg) await rename(join(day, "tile", "overlay.mp4"), join(day, "tile.mp4"));
    const { code, stdout, stderr } = await runCaptured(["batch", day, ...known, "--no-pictures"]);
    expect({ code, last: stdout.trim().split("\n").at(-1) }).toEqual({
      code: 0,
      last: "1 take: 1 measured, 0 bounded, 0 not found, 0 failed",
    });
    const clips = hasFfmpeg ? ["for the edit/overlay.mp4", "tile.mp4"] : [];
    for (const name of ["for the edit/tile over", "tile/overlay", ...clips])
      expect(stderr).toContain(`warning: ${name} was drawn by frontpace, so it is no take: left out`);
  });

  it("stands on a front whose frames have a table of irregular times, and its pictures are drawn", async () => {
    const times = range(0, 39).map((k) => k + 0.45 * Math.sin(2.4 * k));
    const irregular = await renderTake(join(root, "irregular"), {
      numbers: range(0, 39),
      times,
      pixelsPerFrame: 2,
      start: 5,
      rows: 40,
    });
    const table = join(root, "times.csv");
    await writeFile(table, `frame,time\n${times.map((time, k) => `${k},${3 + time * 1e-5}`).join("\n")}\n`);
    const { code } = await runCaptured(["measure", irregular, ...known, "--timestamps", table]);
    expect(code).toBe(0);
    const folder = join(root, "irregular-frontpace");
    expect(await namesIn(folder)).toEqual(expect.arrayContaining(["report.html", "streak.png"]));
    await runCaptured(["overlay", folder]);
    for (const frame of [8, 19, 30]) {
      const file = sharp(join(folder, "overlay", `overlay_00${String(frame).padStart(2, "0")}.png`));
      const { data } = await file.raw().toBuffer({ resolveWithObject: true });
      const column = Math.round(5 + 2 * times[frame]);
      expect(data[4 * (20 * 96 + column) + 3], `frame ${frame}`).toBeGreaterThan(128);
      expect(data[4 * (20 * 96 + column + 5) + 3], `frame ${frame}`).toBe(0);
    }
  });

  it("again replaces its own files and leaves others alone", async () => {
    const folder = join(root, "again");
    await cp(out, folder, { recursive: true });
    await runCaptured(["overlay", folder, "--margin", "5"]);
    await writeFile(join(folder, "overlay", "notes.txt"), "mine");
    const before = await readFile(join(folder, "overlay", "overlay_0012.png"));
    await runCaptured(["overlay", folder, "--margin", "0"]);
    const names = await namesIn(join(folder, "overlay"));
    const { front } = JSON.parse(await readFile(join(folder, "result.json"), "utf8"));
    expect(names).toHaveLength(front.lastFrame - front.firstFrame + 2);
    expect(names).toContain("notes.txt");
    expect(await readFile(join(folder, "overlay", "overlay_0012.png"))).toEqual(before);
  });

  it("puts the footage below in WebP and GIF, enlarged, and says what may be seen", async () => {
    const folder = join(root, "animated");
    const argv = ["overlay", out, "--as", "webp,gif", "--out", folder, "--enlarge", "3", "--play", "20"];
    const { code, stdout } = await runCaptured([...argv, "--margin", "0"]);
    expect(code).toBe(0);
    expect(stdout).toContain("People and premises may be visible");
    expect(await namesIn(folder)).toEqual(["overlay.gif", "overlay.webp"]);
    const { front } = JSON.parse(await readFile(join(out, "result.json"), "utf8"));
    const pages = front.lastFrame - front.firstFrame + 1;
    for (const kind of ["webp", "gif"]) {
      const file = sharp(join(folder, `overlay.${kind}`), { animated: true });
      expect(await file.metadata()).toMatchObject({
        format: kind,
        pages,
        width: 288,
        pageHeight: 120,
        delay: Array(pages).fill(50),
      });
    }
    const { stdout: quiet } = await runCaptured([...argv, "--quiet"]);
    expect(quiet).not.toContain("People");
  });

  it.skipIf(!hasFfmpeg)("writes MP4 with every frame (needs ffmpeg)", async () => {
    const folder = join(root, "clip");
    const argv = ["overlay", out, "--as", "mp4", "--margin", "0", "--out", folder];
    const { code } = await runCaptured(argv);
    expect(code).toBe(0);
    const { front } = JSON.parse(await readFile(join(out, "result.json"), "utf8"));
    const shown = ["-v", "error", "-count_frames", "-show_entries", "stream=nb_read_frames,width,height"];
    const told = execFileSync("ffprobe", [...shown, "-of", "csv=p=0", join(folder, "overlay.mp4")]);
    expect(String(told).trim()).toBe(`672,280,${front.lastFrame - front.firstFrame + 1}`);
    const first = await readFile(join(folder, "overlay.mp4"));
    await runCaptured(argv);
    expect(await readFile(join(folder, "overlay.mp4"))).toEqual(first);
  });

  it("without ffmpeg says what to install, and writes nothing", async () => {
    const folder = join(root, "no-ffmpeg");
    const { PATH } = process.env;
    process.env.PATH = root;
    try {
      const { code, stderr } = await runCaptured(["overlay", out, "--as", "png,mp4", "--out", folder]);
      expect({ code, stderr }).toEqual({ code: 2, stderr: expect.stringMatching(/install ffmpeg/) });
    } finally {
      process.env.PATH = PATH;
    }
    expect(await readdir(folder).catch(() => [])).toEqual([]);
  });

  it("refuses the footage of another take, and says where it looked for none", async () => {
    const other = await renderTake(join(root, "other"), { ...drawn, seed: 2 });
    const folder = join(root, "refused");
    const refused = await runCaptured(["overlay", out, "--as", "webp", "--take", other, "--out", folder]);
    expect(refused.code).toBe(2);
    expect(refused.stderr).toMatch(/is not the footage that tile was measured from: its samples differ/);
    const lone = join(root, "lone", "result");
    await cp(out, lone, { recursive: true });
    const absent = await runCaptured(["overlay", lone, "--as", "gif", "--out", folder]);
    expect(absent).toMatchObject({ code: 2, stderr: expect.stringMatching(/add --take/) });
    expect(await readdir(folder).catch(() => [])).toEqual([]);
  });

  it("finds the footage of a batch as its results lie, and does not write into it", async () => {
    const day = join(root, "day");
    await mkdir(day);
    await cp(take, join(day, "tile"), { recursive: true });
    const result = join(root, "day-frontpace", "tile");
    await cp(out, result, { recursive: true });
    await rename(take, join(root, "aside"));
    try {
      const found = await runCaptured(["overlay", result, "--as", "webp", "--margin", "0"]);
      expect(found.code).toBe(0);
      const into = await runCaptured(["overlay", result, "--as", "webp", "--out", join(day, "tile")]);
      expect(into).toMatchObject({ code: 2, stderr: expect.stringMatching(/stand among the frames/) });
    } finally {
      await rename(join(root, "aside"), take);
    }
  });

  it.each([
    [["--as", "png,avi"], /--as must be one or several of png, webp, gif, mp4/],
    [["--colour", "mauve"], /--colour must be one of amber, white, .* or #rrggbb/],
    [["--colour", "#12345"], /--colour/],
    [["--colour", "constructor"], /--colour must be one of amber/],
    [["--text-size", "tall"], /--text-size must be a number >= 5, px/],
    [["--margin", "-1"], /--margin must be a whole number >= 0/],
    [["--as", "gif", "--play", "60"], /--play must be frames a second from 0.1 to 50, for a GIF/],
    [["--as", "webp", "--enlarge", "0"], /--enlarge/],
    [["--play", "10"], /--play goes with webp, gif and mp4/],
    [["--take", "x"], /--take goes with webp, gif and mp4/],
    [["--out", ""], /--out must be named/],
  ])("with %j exits 2 and says why", async (options, message) => {
    expect(await runCaptured(["overlay", out, ...options])).toMatchObject({
      code: 2,
      stdout: "",
      stderr: expect.stringMatching(message),
    });
  });

  it("of a take in which nothing ran says that there is nothing to draw; of a bound draws what is known", async () => {
    const still = await renderTake(join(root, "still"), {
      numbers: range(0, 24),
      start: -50,
      pixelsPerFrame: 0,
    });
    await runCaptured(["measure", still, ...known, "--no-pictures"]);
    const nothing = await runCaptured(["overlay", join(root, "still-frontpace")]);
    expect(nothing).toMatchObject({ code: 2, stderr: expect.stringMatching(/no front was found in still/) });
    const fast = await renderTake(join(root, "fast"), {
      numbers: range(0, 20),
      start: -500,
      pixelsPerFrame: 60,
      rows: 40,
    });
    await runCaptured(["measure", fast, ...known, "--no-pictures"]);
    const bound = await runCaptured(["overlay", join(root, "fast-frontpace"), "--margin", "2"]);
    expect(bound.code).toBe(0);
    const result = JSON.parse(await readFile(join(root, "fast-frontpace", "result.json"), "utf8"));
    expect(result.status).toBe("bounded");
    const { lastFrameBefore, firstFrameAfter } = result.lowerBound;
    expect(await readdir(join(root, "fast-frontpace", "overlay"))).toHaveLength(
      firstFrameAfter - lastFrameBefore + 5,
    );
    await rm(still, { recursive: true });
  });
});
