import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { openFrames } from "@frontpace/frame-loader";
import { describe, expect, it } from "vitest";
import { measureTake } from "../src/measure-take.js";
import { range, renderTake, temporaryFolder } from "./render-take.js";

const exact = { rateHz: 1e5, rateUncertaintyHz: 0, metresPerPixel: 2e-4, metresPerPixelUncertainty: 0 };

describe("measureTake", async () => {
  const root = await temporaryFolder();
  const take = await renderTake(join(root, "tile"), { numbers: range(-4, 35), pixelsPerFrame: 2, start: 14 });

  it("finds 40 m/s where an edge was rendered at 2 px a frame, 1e5 frames/s and 0.2 mm a pixel", async () => {
    const { result, track, line, streak } = await measureTake(take, exact);
    if (result.status !== "measured") throw new Error(JSON.stringify(result));
    const { value, expandedUncertainty } = result.speed;
    expect(Math.abs(value - 40)).toBeLessThan(3 * expandedUncertainty);
    expect(expandedUncertainty).toBeLessThan(0.4);
    expect(result.front).toMatchObject({ polarity: "bright", direction: [1, 0] });
    expect(result.take).toMatchObject({
      name: "tile",
      frames: 40,
      firstFrame: -4,
      lastFrame: 35,
      bitDepth: 8,
    });
    expect(result.take.framesHash).toMatch(/^[0-9a-f]{64}$/);
    expect(track.filter(({ used }) => used)).toHaveLength(result.front.framesUsed);
    expect(Math.abs((line?.slopePixelsPerFrame ?? 0) - 2)).toBeLessThan(0.02);
    expect(streak.shape[0]).toBe(40);
  });

  it("gives the same bytes for the same frames, wherever they stand", async () => {
    const first = JSON.stringify((await measureTake(take, exact)).result);
    const copy = await renderTake(join(root, "elsewhere", "tile"), {
      numbers: range(-4, 35),
      pixelsPerFrame: 2,
      start: 14,
    });
    expect(JSON.stringify((await measureTake(copy, exact)).result)).toBe(first);
    expect(first).not.toContain(root);
  });

  it("uses take.json in the folder, and options win over it", async () => {
    const folder = await renderTake(join(root, "noted"), { numbers: range(0, 30), pixelsPerFrame: 2 });
    const file = { format: "frontpace-take", version: 1, ...exact, firstFrame: 2 };
    await writeFile(join(folder, "take.json"), JSON.stringify(file));
    const { result } = await measureTake(folder, { rateHz: 2e5 });
    expect(result.take).toMatchObject({ rateHz: 2e5, rateUncertaintyHz: null, firstFrame: 2, frames: 29 });
    expect(result.speed).toMatchObject({ complete: false, missing: ["rate"] });
  });

  it("counts the frames missing within the frames used, not those of the whole take", async () => {
    const numbers = range(0, 40).filter((number) => ![5, 6, 30].includes(number));
    const folder = await renderTake(join(root, "gaps"), { numbers, pixelsPerFrame: 2 });
    const missing = async (more: object) =>
      (await measureTake(folder, { ...exact, ...more })).result.warnings
        .filter(({ code }) => code === "missing-frames")
        .map(({ message }) => message.split(":")[0]);
    expect(await missing({})).toEqual(["3 frames are missing (5 to 6, 30)"]);
    expect(await missing({ firstFrame: 8 })).toEqual(["1 frame is missing (30)"]);
    expect(await missing({ firstFrame: 8, lastFrame: 28 })).toEqual([]);
  });

  it("measures an open sequence and leaves it open", async () => {
    const frames = await openFrames(take);
    const { result } = await measureTake({ frames }, exact);
    expect(result).toEqual((await measureTake(take, exact)).result);
    expect((await frames.read(0)).shape).toEqual([16, 96]);
    await expect(measureTake({ frames }, { ...exact, frameStep: 2 })).rejects.toThrow(
      "frameStep applies where",
    );
    await frames.close();
  });

  it("calls a take of two frames bounded or not-found, never measured", async () => {
    const two = await renderTake(join(root, "two"), { numbers: [0, 1], pixelsPerFrame: 200, start: -50 });
    const { result } = await measureTake(two, exact);
    expect(result.status).not.toBe("measured");
    expect(result.speed).toBeNull();
  });

  it("rejects with the reason of the signal, before and during the reading of frames", async () => {
    const reason = new Error("enough");
    await expect(measureTake(take, exact, { signal: AbortSignal.abort(reason) })).rejects.toBe(reason);
    const controller = new AbortController();
    const context = { signal: controller.signal, onProgress: () => controller.abort(reason) };
    await expect(measureTake(take, exact, context)).rejects.toBe(reason);
  });

  it("reports an empty folder in the loader's words", async () => {
    await mkdir(join(root, "empty"));
    await expect(measureTake(join(root, "empty"), exact)).rejects.toMatchObject({ code: "no-frames" });
  });
});
