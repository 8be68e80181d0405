import { mkdir, readdir, readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { prepareOutput } from "../src/files/prepare-output.js";
import { trackCsv } from "../src/files/track-csv.js";
import { writeOutputs } from "../src/files/write-outputs.js";
import { temporaryFolder } from "./render-take.js";

describe("writing", async () => {
  const root = await temporaryFolder();
  await writeFile(join(root, "a-file"), "kept");

  it("prepareOutput leaves nothing behind, not even the folder", async () => {
    await prepareOutput(join(root, "one", "two"));
    expect(await readdir(root)).toEqual(["a-file"]);
  });

  it.each(["a-file", "a-file/below"])("an output folder that is %s is refused", async (name) => {
    const refusal = { code: "output-not-writable", fields: { file: join(root, name) } };
    await expect(prepareOutput(join(root, name))).rejects.toMatchObject(refusal);
    await expect(writeOutputs(join(root, name), { x: "1" })).rejects.toMatchObject(refusal);
    expect(await readFile(join(root, "a-file"), "utf8")).toBe("kept");
  });

  it("writes text and bytes, replaces what stood there and removes what is stale", async () => {
    const folder = join(root, "made");
    await writeOutputs(folder, { "a.txt": "old", "b.svg": "old" });
    await writeOutputs(folder, { "a.txt": "new", "c.bin": Uint8Array.of(0, 255) }, { stale: ["b.svg"] });
    expect((await readdir(folder)).sort()).toEqual(["a.txt", "c.bin"]);
    expect(await readFile(join(folder, "a.txt"), "utf8")).toBe("new");
    expect([...(await readFile(join(folder, "c.bin")))]).toEqual([0, 255]);
  });

  it("when one file cannot be placed, no other is touched", async () => {
    const folder = join(root, "blocked");
    await mkdir(join(folder, "z.txt"), { recursive: true });
    await writeFile(join(folder, "a.txt"), "old");
    const writing = writeOutputs(folder, { "a.txt": "new", "z.txt": "new" });
    await expect(writing).rejects.toMatchObject({ code: "output-not-writable" });
    expect((await readdir(folder)).sort()).toEqual(["a.txt", "z.txt"]);
    expect(await readFile(join(folder, "a.txt"), "utf8")).toBe("old");
  });

  it("when stopped half way, old files stay whole and nothing new appears", async () => {
    const folder = join(root, "stopped");
    await writeOutputs(folder, { "a.txt": "old" });
    const controller = new AbortController();
    const reason = new Error("stop");
    const writing = writeOutputs(
      folder,
      { "a.txt": "new", "big.bin": new Uint8Array(64_000_000) },
      { signal: controller.signal },
    );
    setTimeout(() => controller.abort(reason), 2);
    await expect(writing).rejects.toBe(reason);
    expect(await readdir(folder)).toEqual(["a.txt"]);
    expect(await readFile(join(folder, "a.txt"), "utf8")).toBe("old");
  });

  it("when stopped before it starts, creates no folder", async () => {
    const folder = join(root, "never");
    await expect(writeOutputs(folder, { a: "1" }, { signal: AbortSignal.abort() })).rejects.toThrow(
      "aborted",
    );
    await expect(stat(folder)).rejects.toMatchObject({ code: "ENOENT" });
  });
});

describe("trackCsv", () => {
  it("is one header and one row a frame, all ended by CRLF", () => {
    const row = {
      frame: -3,
      timeSeconds: -3e-7,
      positionPixels: 1.25,
      positionMetres: 2.5e-4,
      standardUncertaintyPixels: 0.02,
      residualPixels: -0.01,
      used: false,
    };
    expect(trackCsv([row])).toBe(
      "frame,time_s,position_px,position_m,u_position_px,residual_px,used\r\n-3,-3e-7,1.25,0.00025,0.02,-0.01,false\r\n",
    );
  });
});
