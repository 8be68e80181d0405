import { spawn } from "node:child_process";
import { watch } from "node:fs";
import { access, link, mkdir, readdir } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { range, renderTake, temporaryFolder } from "../../take/test/render-take.js";

const command = fileURLToPath(new URL("../bin/frontpace.js", import.meta.url));
const main = fileURLToPath(new URL("../dist/bundle/main.js", import.meta.url));
const known = ["--rate", "100k+-0", "--scale", "0.2mm+-0.5%"];

function start(argv: readonly string[], cwd: string) {
  const child = spawn(process.execPath, [command, ...argv], { cwd, stdio: ["ignore", "pipe", "pipe"] });
  let stdout = "";
  let stderr = "";
  child.stdout.on("data", (part) => {
    stdout += part;
  });
  child.stderr.on("data", (part) => {
    stderr += part;
  });
  const end = new Promise<{ code: number | null; stdout: string; stderr: string }>((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, stdout, stderr }));
  });
  return { child, end };
}

/** The built command, as a process of its own: build first. */
describe("bin/frontpace.js", async () => {
  await access(main);
  const root = await temporaryFolder();
  await renderTake(join(root, "tile"), { numbers: range(0, 30), pixelsPerFrame: 2 });

  it("measures, prints one JSON object and names files relative to where it was called", async () => {
    const human = await start(["measure", "tile", ...known], root).end;
    expect(human.code).toBe(0);
    expect(human.stdout).toContain(`\n  ${join("tile-frontpace", "result.json")}\n`);
    expect(human.stdout).not.toContain(root);
    const { code, stdout } = await start(["measure", "tile", ...known, "--json"], root).end;
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ status: "measured", take: { name: "tile" } });
  });

  it("exits 2 with one line on standard error for a rate that is none", async () => {
    const { code, stdout, stderr } = await start(["measure", "tile", "--rate", "fast"], root).end;
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    expect(stderr).toMatch(/^error: --rate must be .*\n$/);
  });

  it("exits 130 on an interrupt half way and leaves nothing half-written", async () => {
    const folder = join(root, "interrupted");
    await mkdir(folder);
    await renderTake(join(folder, "long"), { numbers: [0], pixelsPerFrame: 0, rows: 512, columns: 768 });
    for (const number of range(1, 3000)) {
      await link(
        join(folder, "long", "0000.png"),
        join(folder, "long", `${String(number).padStart(4, "0")}.png`),
      );
    }
    const { child, end } = start(["measure", "long", ...known], folder);
    // The trial of the output folder comes right before the reading of frames.
    const watcher = watch(folder, (_event, name) => {
      if (name === "long-frontpace") child.kill("SIGINT");
      watcher.close();
    });
    const { code, stdout, stderr } = await end;
    expect({ code, stdout }).toEqual({ code: 130, stdout: "" });
    expect(stderr).toContain("interrupted");
    expect(await readdir(folder)).toEqual(["long"]);
  });
});
