import type { TakeOutcome } from "@frontpace/batch";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { batchProgress } from "../../src/batch/batch-progress.js";
import { capture } from "../capture.js";

const failed = (name: string): TakeOutcome => ({
  name,
  result: null,
  error: { code: "no-frames", message: "no still carries a number" },
  isNew: true,
  shared: null,
  footage: null,
});

describe("a line of a take", () => {
  it.each([
    ["new\nline", "new\\nline  failed: no still"],
    ["red\u001b[31m", "red\\u001b[31m  failed: no still"],
    ["c1\u009b2J", "c1\\u009b2J  failed: no still"],
    ["ünï 測", "ünï 測  failed: no still"],
  ])("is one line whose name commands no terminal: %j", (name, line) => {
    const { context, stdout, stderr } = capture({ isTTY: true });
    const progress = batchProgress(context, false);
    progress.context.onFound?.([name, "next"]);
    progress.context.onProgress?.(name, { stage: "reading", done: 1, total: 2 });
    progress.context.onOutcome?.(failed(name));
    expect(stdout()).toContain(line);
    expect(stdout().split("\n")).toHaveLength(2);
    if (name.includes("\u001b")) expect(stderr()).not.toContain(name);
  });
});

describe("how far a batch is", () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ["performance"] }));
  afterEach(() => void vi.useRealTimers());

  /** Two hundred takes of two seconds each, of which so many are done. */
  function told(takes: number, isTTY: boolean, columns?: number) {
    const { context, stdout, stderr } = capture({ isTTY });
    Object.assign(context.stderr, { columns });
    const { context: batch, clear } = batchProgress(context, false);
    const names = Array.from({ length: 200 }, (_, k) => `tile-${k}`);
    batch.onFound?.(names);
    for (const name of names.slice(0, takes)) {
      batch.onProgress?.(name, { stage: "reading", done: 3, total: 30 });
      vi.advanceTimersByTime(2000);
      batch.onOutcome?.(failed(name));
    }
    clear();
    return { stdout: stdout(), stderr: stderr() };
  }

  it("on a terminal stands in a bar with the take at work, takes a minute and the time left", () => {
    const { stdout, stderr } = told(20, true, 100);
    expect(stdout.split("\n")[19]).toBe("tile-19   failed: no still carries a number");
    expect(stderr).toContain("] takes 19/200, 30 a minute, 7 min left; tile-19: reading 3/30");
    expect(stderr).toMatch(/\] takes 20\/200, 30 a minute, 6 min left(?!;)/);
    for (const line of told(20, true).stderr.split(/\r|\n/))
      expect(line.replace("\u001b[2K", "").length).toBeLessThan(80);
  });

  it("elsewhere is said in a plain line every half a minute, and not at all of a short one", () => {
    expect(told(14, false).stderr).toBe("");
    expect(told(40, false).stderr).toBe(
      "15 of 200 takes done, 30 a minute, 7 min left\n30 of 200 takes done, 30 a minute, 6 min left\n",
    );
    expect(told(40, false).stdout.match(/^tile-/gm)).toHaveLength(40);
  });
});
