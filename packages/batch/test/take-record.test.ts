import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { temporaryFolder } from "../../take/test/render-take.js";
import type { MeasuredFiles } from "../src/measure-to-files.js";
import { writeTake } from "../src/take-record.js";

const measured = { files: { "track.csv": "" }, stale: [] } as unknown as MeasuredFiles;

describe("writeTake", () => {
  it("says in words, with a code of the table, that a file stands where the folder of a take would go", async () => {
    const folder = join(await temporaryFolder(), "tile-1");
    await writeFile(folder, "");
    await expect(writeTake(folder, "any", measured)).rejects.toMatchObject({
      code: "output-not-writable",
      message: expect.stringContaining("a file stands in its place"),
    });
  });
});
