import { readdir, readFile, writeFile } from "node:fs/promises";
import { join, relative } from "node:path";
import { checkResult } from "@frontpace/take";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";
import { runCaptured } from "./capture.js";

const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0.5%"];

describe("frontpace measure", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "tile"), { numbers: range(-4, 35), pixelsPerFrame: 2, start: 14 });
  const out = join(root, "tile-frontpace");

  it("prints the speed and writes result, track and pictures beside the take", async () => {
    const { code, stdout, stderr } = await runCaptured(["measure", take, ...known]);
    expect(stderr).not.toContain("error:");
    expect(code).toBe(0);
    expect(stdout).toMatch(/^read: tile, 40 frames of 96 x 16 px, 8 bit, numbers -4 to 35 \(no gaps\)$/m);
    expect(stdout).toMatch(/^front: bright, ran right /m);
    const [, speed, halfWidth] =
      /^speed: ([\d.]+) m\/s \+- ([\d.]+) m\/s \(95 % interval/m.exec(stdout) ?? [];
    expect(Math.abs(Number(speed) - 40)).toBeLessThan(2 * Number(halfWidth));
    expect(stdout).toContain(relative(process.cwd(), join(out, "result.json")));
    expect(stdout).toMatch(/^ {2}besides: \d+ smaller, \d+ not evaluated \(--budget shows them\)$/m);
    expect(stdout).toContain("Not for legal or safety certification");

    const frames = ["frame-after.png", "frame-before.png", "frame-middle.png"];
    const streak = ["streak-samples.png", "streak.png"];
    const files = ["fit.svg", ...frames, "report.html", "result.json", ...streak, "track.csv"];
    expect((await readdir(out)).sort()).toEqual(files);
    const result = await checkResult(JSON.parse(await readFile(join(out, "result.json"), "utf8")));
    expect(result.status).toBe("measured");
    const csv = await readFile(join(out, "track.csv"), "utf8");
    expect(csv).toMatch(/^frame,time_s,position_px,position_m,u_position_px,residual_px,used\r\n/);
    expect((await sharp(join(out, "streak.png")).metadata()).format).toBe("png");
    expect(await readFile(join(out, "fit.svg"), "utf8")).toContain("<svg");
  });

  it("with --budget prints every line of the budget of result.json and every effect not in it, largest first", async () => {
    const { code, stdout } = await runCaptured(["measure", take, ...known, "--budget"]);
    expect(code).toBe(0);
    const { speed } = await checkResult(JSON.parse(await readFile(join(out, "result.json"), "utf8")));
    const rows = stdout
      .split("\n")
      .map((row) => /^ {2}(\w+(?: \w+)*) +(?:[\d.]+|exact) .*(?:[AB]) +(?:\d+|infinite)$/.exec(row)?.[1])
      .filter((source) => source !== undefined);
    const sizes = new Map(speed!.budget.map((line) => [line.source, line.standardUncertainty]));
    expect([...rows].sort()).toEqual([...sizes.keys()].sort());
    expect(rows.map((source) => sizes.get(source))).toEqual([...sizes.values()].sort((a, b) => b - a));
    expect(speed!.notEvaluated!.length).toBeGreaterThan(0);
    for (const { source } of speed!.notEvaluated!) expect(stdout).toContain(`\n  ${source}: `);
  });

  it("prints the same budget with --budget all and --budget=all as with --budget", async () => {
    const plain = await runCaptured(["measure", take, ...known, "--no-pictures", "--budget"]);
    for (const words of [["--budget", "all"], ["--budget=all"]])
      expect(await runCaptured(["measure", ...words, take, ...known, "--no-pictures"])).toEqual(plain);
  });

  it("with --json prints the bytes of result.json and nothing else", async () => {
    const elsewhere = join(root, "chosen", "folder");
    const { code, stdout } = await runCaptured(["measure", take, ...known, "--json", "--out", elsewhere]);
    expect(code).toBe(0);
    expect(stdout).toBe(await readFile(join(elsewhere, "result.json"), "utf8"));
    expect(stdout).toBe(await readFile(join(out, "result.json"), "utf8"));
    expect(JSON.parse(stdout)).toMatchObject({ format: "frontpace-result", status: "measured" });
  });

  it("with --no-pictures gives the same result without them, and removes those of an earlier run", async () => {
    const folder = join(root, "plain");
    await runCaptured(["measure", take, ...known, "--out", folder]);
    expect(await readdir(folder)).toContain("streak.png");
    const { code } = await runCaptured(["measure", take, ...known, "--no-pictures", "--out", folder]);
    expect(code).toBe(0);
    expect((await readdir(folder)).sort()).toEqual(["result.json", "track.csv"]);
    expect(await readFile(join(folder, "result.json"), "utf8")).toBe(
      await readFile(join(out, "result.json"), "utf8"),
    );
  });

  it("calls a number without stated uncertainty a reading only", async () => {
    const { code, stdout, stderr } = await runCaptured([
      "measure",
      take,
      "--rate",
      "100k",
      "--scale",
      "0.2mm",
    ]);
    expect(code).toBe(0);
    expect(stdout).toContain("reading only");
    expect(stderr).toContain("warning: reading-only: ");
    expect(stderr).toContain("--scale 0.2mm+-0.5%");
  });

  it("takes negative frame numbers and what take.json knows", async () => {
    const folder = await renderTake(join(root, "noted"), {
      numbers: range(-9, 30),
      pixelsPerFrame: 2,
      start: 20,
    });
    const file = { format: "frontpace-take", version: 1, rateHz: 1e5, metresPerPixel: 2e-4 };
    await writeFile(join(folder, "take.json"), JSON.stringify(file));
    const { code, stdout } = await runCaptured(["measure", folder, "--frames", "-8..25", "--json"]);
    expect(code).toBe(0);
    expect(JSON.parse(stdout).take).toMatchObject({ firstFrame: -8, lastFrame: 25, rateHz: 1e5 });
  });

  it("exits 3 where nothing moves, keeps the streak and removes what an earlier run proved", async () => {
    const still = await renderTake(join(root, "still"), {
      numbers: range(0, 30),
      pixelsPerFrame: 0,
      start: -50,
    });
    const folder = join(root, "still-frontpace");
    await runCaptured(["measure", take, ...known, "--out", folder]);
    const { code, stdout, stderr } = await runCaptured(["measure", still, ...known]);
    expect(code).toBe(3);
    expect(stderr).toBe("");
    expect(stdout).toMatch(/^front: none found \(/m);
    expect(stdout).not.toMatch(/\d m\/s/);
    const frames = ["frame-after.png", "frame-before.png", "frame-middle.png"];
    const streak = ["streak-samples.png", "streak.png"];
    expect((await readdir(folder)).sort()).toEqual([...frames, "report.html", "result.json", ...streak]);

    const machine = await runCaptured(["measure", still, ...known, "--json"]);
    expect(machine).toMatchObject({ code: 3, stderr: "" });
    const { notFound, warnings } = JSON.parse(machine.stdout);
    expect(notFound).toMatchObject({ reason: "no-change" });
    expect(warnings).toEqual([{ code: "no-change", message: notFound.message }]);
  });

  it("exits 3 with at most a lower bound for a take of one or two frames", async () => {
    for (const numbers of [[0], [0, 1]]) {
      const folder = await renderTake(join(root, `few-${numbers.length}`), {
        numbers,
        pixelsPerFrame: 200,
        start: -50,
      });
      const { code, stdout } = await runCaptured(["measure", folder, ...known, "--json"]);
      expect(code).toBe(3);
      const result = await checkResult(JSON.parse(stdout));
      expect(result.speed).toBeNull();
      expect(result.status === "bounded").toBe(result.lowerBound !== null);
      if (numbers.length === 1) expect(result.status).toBe("not-found");
    }
  });
});
