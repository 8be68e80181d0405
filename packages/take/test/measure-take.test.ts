import { mkdir, rm, truncate, writeFile } from "node:fs/promises";
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

  it("leaves damaged stills out with skipBad, and measures as if they had never been there", async () => {
    const numbers = range(0, 24);
    const whole = await renderTake(join(root, "sound", "tile"), { numbers, pixelsPerFrame: 3 });
    const damaged = await renderTake(join(root, "damaged", "tile"), { numbers, pixelsPerFrame: 3 });
    await rm(join(whole, "0007.png"));
    await rm(join(whole, "0012.png"));
    await writeFile(join(damaged, "0007.png"), "");
    await truncate(join(damaged, "0012.png"), 700);
    await expect(measureTake(damaged, exact)).rejects.toMatchObject({ code: "corrupt-frame" });

    const file = { format: "frontpace-take", version: 1, ...exact, skipBad: true };
    await writeFile(join(damaged, "take.json"), JSON.stringify(file));
    const skipped = (await measureTake(damaged)).result;
    const missing = (await measureTake(whole, exact)).result;
    expect(skipped.speed).toEqual(missing.speed);
    const { skipBad, stated, ...rest } = skipped.take;
    expect(skipBad).toBe(true);
    expect(stated).toEqual([...(missing.take.stated ?? []), "skipBad"]);
    expect({ ...rest, stated: missing.take.stated }).toEqual(missing.take);
    expect(skipped.warnings.map(({ code }) => code)).toContain("frames-skipped");
    expect(skipped.warnings.map(({ code }) => code)).not.toContain("missing-frames");
    expect(skipped.warnings.find(({ code }) => code === "frames-skipped")?.message).toMatch(
      /^frames 7, 12 are left out \(0007\.png is empty.+0012\.png is damaged or cut short/,
    );
  });

  it("undoes a declared transfer function: a front is timed alike, in other levels", async () => {
    const numbers = range(0, 24);
    const folder = await renderTake(join(root, "curve"), { numbers, pixelsPerFrame: 3 });
    const stored = await measureTake(folder, exact);
    const light = await measureTake(folder, { ...exact, transfer: "srgb" });
    expect(light.result.take.transfer).toBe("srgb");
    // Levels of 50 and 170 DN stand for 8.1 and 102.5 DN of light (IEC 61966-2-1, by hand); noise of 2 DN bends them little.
    const [low, high] = [light.streak.data[95], light.streak.data[24 * 96]];
    expect(Math.abs(low - 8.1)).toBeLessThan(0.3);
    expect(Math.abs(high - 102.5)).toBeLessThan(1.5);
    const [a, b] = [stored.result, light.result].map(({ speed }) => speed);
    if (!a || !b) throw new Error("not measured");
    // The curve moves the mid-level by the same part of the edge in every frame.
    expect(Math.abs(a.value - b.value)).toBeLessThan(2 * (a.expandedUncertainty + b.expandedUncertainty));
  });

  it("gives the tracker the light pulse in place of the exposure", async () => {
    const measure = async (more: object) => (await measureTake(take, { ...exact, ...more })).result;
    const pulse = await measure({ exposureSeconds: 1e-5, lightPulseSeconds: 1e-7 });
    const short = await measure({ exposureSeconds: 1e-7 });
    expect(pulse.speed).toEqual(short.speed);
    const long = await measure({ exposureSeconds: 1e-5 });
    expect(pulse.speed).not.toEqual(long.speed);
  });

  it("measures an open sequence and leaves it open", async () => {
    const frames = await openFrames(take);
    const { result } = await measureTake({ frames }, exact);
    expect(result).toEqual((await measureTake(take, exact)).result);
    expect((await frames.read(0)).shape).toEqual([16, 96]);
    for (const options of [{ frameStep: 2 }, { skipBad: true }, { transfer: "srgb" }] as const)
      await expect(measureTake({ frames }, { ...exact, ...options })).rejects.toMatchObject({
        code: "invalid-value",
        message: expect.stringContaining(
          `${Object.keys(options)[0]} applies where a folder or a file is opened`,
        ),
      });
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
