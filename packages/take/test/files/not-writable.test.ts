import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { prepareOutput } from "../../src/files/prepare-output.js";
import { writeOutputs } from "../../src/files/write-outputs.js";

// A folder that may not be entered: root, as whom tests run at times, enters any.
vi.mock("node:fs/promises", async (original) => {
  const denied = () => Promise.reject(Object.assign(new Error("EACCES"), { code: "EACCES" }));
  return { ...(await original<typeof import("node:fs/promises")>()), writeFile: denied, rm: denied };
});

describe("a folder in which nothing can be written or removed", async () => {
  const folder = await mkdtemp(join(tmpdir(), "frontpace-"));
  const said = { code: "output-not-writable", message: expect.stringContaining("no permission") };

  it("is said before long work and when files are written", async () => {
    await expect(prepareOutput(folder)).rejects.toMatchObject(said);
    await expect(writeOutputs(folder, { "track.csv": "" })).rejects.toMatchObject(said);
  });
});
