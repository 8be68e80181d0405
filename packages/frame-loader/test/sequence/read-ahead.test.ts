import { setTimeout as delay } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { abortable } from "../../src/sequence/abortable.js";
import { readAhead } from "../../src/sequence/read-ahead.js";
import { readAheadDepth } from "../../src/sequence/read-ahead-depth.js";

describe("readAhead", () => {
  it("keeps the order where later items are ready first, and never exceeds its depth", async () => {
    let running = 0;
    let most = 0;
    const load = async (index: number) => {
      running += 1;
      most = Math.max(most, running);
      await delay(index % 3 === 0 ? 6 : 1);
      running -= 1;
      return index;
    };
    const seen: number[] = [];
    for await (const item of readAhead({ start: 2, end: 20, depth: 4, load })) seen.push(item);
    expect(seen).toEqual(Array.from({ length: 18 }, (_, i) => i + 2));
    expect(most).toBe(4);
  });

  it("starts nothing more once the loop is left", async () => {
    const started: number[] = [];
    const load = async (index: number) => {
      started.push(index);
      return index;
    };
    for await (const item of readAhead({ start: 0, end: 100, depth: 3, load })) if (item === 1) break;
    await delay(5);
    expect(started).toEqual([0, 1, 2, 3, 4]);
  });

  it("rejects with the reason while a load never ends", async () => {
    const controller = new AbortController();
    const reason = new Error("called off");
    const load = () => new Promise<number>(() => {});
    const first = readAhead({ start: 0, end: 5, depth: 2, load, signal: controller.signal }).next();
    controller.abort(reason);
    await expect(first).rejects.toBe(reason);
  });

  it("starts nothing where the signal has aborted already", async () => {
    const started: number[] = [];
    const load = async (index: number) => started.push(index);
    const signal = AbortSignal.abort("called off");
    await expect(readAhead({ start: 0, end: 5, depth: 2, load, signal }).next()).rejects.toBe("called off");
    expect(started).toEqual([]);
  });

  it("rejects with the reason where the signal aborts while the last item is in use", async () => {
    const controller = new AbortController();
    const plan = {
      start: 0,
      end: 2,
      depth: 4,
      load: async (index: number) => index,
      signal: controller.signal,
    };
    const loop = async () => {
      for await (const item of readAhead(plan)) if (item === 1) controller.abort("called off");
    };
    await expect(loop()).rejects.toBe("called off");
  });

  it("drops failures behind the one it reports, without an unhandled rejection", async () => {
    const unhandled: unknown[] = [];
    const note = (reason: unknown) => unhandled.push(reason);
    process.on("unhandledRejection", note);
    const load = async (index: number): Promise<number> => {
      await delay(10 - index);
      throw new Error(`item ${index}`);
    };
    await expect(readAhead({ start: 0, end: 8, depth: 8, load }).next()).rejects.toThrow("item 0");
    await delay(20);
    process.off("unhandledRejection", note);
    expect(unhandled).toEqual([]);
  });
});

describe("abortable", () => {
  it("rejects at once where the signal has aborted already", async () => {
    const never = new Promise<number>(() => {});
    await expect(abortable(never, AbortSignal.abort("called off"))).rejects.toBe("called off");
  });

  it("passes on the outcome of the work otherwise", async () => {
    const { signal } = new AbortController();
    await expect(abortable(Promise.resolve(4), signal)).resolves.toBe(4);
    await expect(abortable(Promise.reject(new Error("spoilt")), signal)).rejects.toThrow("spoilt");
  });
});

describe("readAheadDepth", () => {
  it.each([
    ["eight small frames", 1000, 16, 8],
    ["four for each processor", 1000, 1, 4],
    ["no more than 256 MB", 100 * 2 ** 20, 16, 2],
    ["one frame larger than that", 2 ** 30, 16, 1],
  ])("allows %s", (_what, frameBytes, processors, depth) => {
    expect(readAheadDepth(frameBytes, processors)).toBe(depth);
  });
});
