import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { measureTake } from "../../src/measure-take.js";
import { meanRate, parseTimestamps } from "../../src/settings/timestamps.js";
import { renderTake, temporaryFolder } from "../render-take.js";

const root = await temporaryFolder();

describe("timestamps", () => {
  it("are read with their header, gaps and irregular steps, and have a mean rate", () => {
    const times = parseTimestamps("\uFEFFframe,time\r\n-2,0.5\r\n0,0.75\r\n2,1.5\r\n", "t.csv");
    expect([...times]).toEqual([
      [-2, 0.5],
      [0, 0.75],
      [2, 1.5],
    ]);
    expect(meanRate(times)).toBe(4);
  });

  it.each([
    ["no header", "0,1\n1,2", "line 1: the header must be frame,time"],
    ["a text", "frame,time\n0,1\n1,x", "line 3: a row must be a whole frame number and a time"],
    ["half a frame", "frame,time\n0.5,1", "line 2: a row must be a whole frame number"],
    ["a frame twice", "frame,time\n1,1\n1,2", "line 3: frame numbers must increase, 1 stands before it"],
    ["time that stands", "frame,time\n1,1\n2,1", "line 3: times must increase, 1 stands before it"],
    ["one row", "frame,time\n1,1", "at least two rows"],
  ])("with %s are an error that names the line", (_, text, message) => {
    expect(() => parseTimestamps(text, "t.csv")).toThrow(
      expect.objectContaining({ code: "invalid-timestamps", message: expect.stringContaining(message) }),
    );
  });

  // Frames taken at 0, 1, 2.4, 3, 4, 5.4, … intervals of 10 µs: a front of 3 px an interval is rendered at these times.
  const intervals = Array.from({ length: 36 }, (_, k) => k + (k % 3 === 2 ? 0.4 : 0));
  const known = { metresPerPixel: 2e-4, metresPerPixelUncertainty: 0, rateHz: 1e5, rateUncertaintyHz: 0 };

  it("give the speed of a front whose frames were taken at irregular times, 3 px an interval, 60 m/s; their numbers alone give none", async () => {
    const take = await renderTake(join(root, "irregular"), {
      numbers: intervals.map((_, k) => k),
      times: intervals,
      columns: 128,
      start: 5,
      pixelsPerFrame: 3,
    });
    const table = join(root, "times.csv");
    await writeFile(table, `frame,time\n${intervals.map((t, k) => `${k},${7 + t * 1e-5}`).join("\n")}\n`);
    const { result, track } = await measureTake(take, { ...known, timestamps: table });
    if (result.status !== "measured") throw new Error(JSON.stringify(result));
    expect(Math.abs(result.speed.value - 60)).toBeLessThan(result.speed.expandedUncertainty);
    expect(result.speed.expandedUncertainty).toBeLessThan(0.3);
    expect(result.take.timestamps).toBe(true);
    const at = (frame: number) => track.find((row) => row.frame === frame)!.timeSeconds;
    expect(Math.abs(at(11) - at(10) - 1.4e-5)).toBeLessThan(1e-9);
    const without = (await measureTake(take, known)).result;
    expect(without.speed).toBeNull();
  });

  it("that lack a frame, or cannot be read, are errors", async () => {
    const table = join(root, "short.csv");
    await writeFile(table, "frame,time\n0,0\n1,1e-5\n");
    const take = join(root, "irregular");
    await expect(measureTake(take, { ...known, timestamps: table })).rejects.toMatchObject({
      code: "invalid-timestamps",
      message: expect.stringContaining("no time for frame 2"),
    });
    await expect(measureTake(take, { ...known, timestamps: join(root, "none.csv") })).rejects.toMatchObject({
      code: "file-unreadable",
    });
  });
});
