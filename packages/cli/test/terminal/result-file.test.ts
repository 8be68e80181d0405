import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { temporaryFolder } from "../../../take/test/render-take.js";
import { resultFile } from "../../src/terminal/result-file.js";

/** Files with these texts, in folders that are made for them. */
async function place(root: string, files: Readonly<Record<string, string>>): Promise<void> {
  for (const [name, text] of Object.entries(files)) {
    await mkdir(join(root, name, ".."), { recursive: true });
    await writeFile(join(root, name), text);
  }
}

const summary = (...measured: readonly string[]): string =>
  JSON.stringify({
    format: "frontpace-summary",
    takes: [
      ...measured.map((take) => ({ take, result: `${take}/result.json`, error: null })),
      { take: "oil/cut", result: null, error: { message: "tile_3.png is cut short" } },
    ],
  });

describe("what a batch left is told by what is named in its place", async () => {
  const root = await temporaryFolder();
  await place(root, {
    "day/oil/cut/0.png": "",
    "day/cold/tile-1/0.png": "",
    "day/cold/shot.npy": "\u0093NUMPY",
    "day-frontpace/summary.json": summary("cold/tile-1", "cold/shot.npy"),
    "day-frontpace/summary.html": "<!doctype html>",
    "day-frontpace/cold/tile-1/result.json": "{}",
    "day-frontpace/cold/tile-1/report.html": "<!doctype html>",
    "day-frontpace/cold/shot.npy/result.json": "{}",
    "spring/east/tile-5/0.png": "",
    "results/summary.json": summary("east/tile-5"),
    "results/east/tile-5/result.json": "{}",
    "results/cut-short.txt": "no result",
  });
  await mkdir(join(root, "elsewhere"));
  const before = process.cwd();
  beforeAll(() => process.chdir(root));
  afterAll(() => process.chdir(before));

  const ofTile = "give day-frontpace/cold/tile-1";
  it.each([
    ["the footage of a take", "day/cold/tile-1", `a batch has the result of cold/tile-1: ${ofTile}`],
    ["a file of frames", "day/cold/shot.npy", "give day-frontpace/cold/shot.npy"],
    [
      "the footage of takes",
      "day/cold",
      "one of them, for example day-frontpace/cold/tile-1 (day-frontpace/summary.html",
    ],
    ["the folder of footage", "day", "for example day-frontpace/cold/tile-1"],
    ["the folder of the batch", "day-frontpace", "for example day-frontpace/cold/tile-1"],
    ["a folder of its takes", "day-frontpace/cold", "for example day-frontpace/cold/tile-1"],
    ["its page", "day-frontpace/summary.html", "is no result: each take of a batch has its own"],
    ["the page of a take", "day-frontpace/cold/tile-1/report.html", ofTile],
    ["a take that failed", "day/oil/cut", "could not measure oil/cut (tile_3.png is cut short)"],
    ["where a failed take would be", "day-frontpace/oil/cut", "could not measure oil/cut"],
    [
      "a take without its folder",
      "day-frontpace/tile-1",
      `does not exist: a batch has the result of cold/tile-1: ${ofTile}`,
    ],
    ["a take that is not there", "day-frontpace/cold/tile-9", "has no such take (day-frontpace/summary.html"],
    ["a take by its own name", "tile-1", ofTile],
    ["footage, with another folder for the files", "spring/east/tile-5", "give results/east/tile-5"],
    ["all footage, with another folder", "spring", "for example results/east/tile-5"],
  ])("%s", async (_, named, words) => {
    await expect(resultFile(named)).rejects.toMatchObject({
      code: "file-unreadable",
      message: expect.stringContaining(words),
    });
  });

  it.each(["nothing", "elsewhere/result.json"])(
    "what is like nothing there, %s, is left to the reader",
    async (named) => {
      expect(await resultFile(named)).toBe(named);
    },
  );

  it("from within the footage", async () => {
    process.chdir("spring");
    for (const named of [".", "east", "east/tile-5"])
      await expect(resultFile(named)).rejects.toThrow(`${join("..", "results", "east", "tile-5")}`);
    process.chdir(root);
  });
});
