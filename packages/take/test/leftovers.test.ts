import { spawnSync } from "node:child_process";
import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it, vi } from "vitest";
import { prepareOutput, removeLeftovers } from "../src/index.js";

const seen = vi.hoisted(() => ({ probes: [] as string[] }));
vi.mock("node:fs/promises", async (original) => {
  const real = await original<typeof import("node:fs/promises")>();
  const noted: typeof real.rm = async (path, options) => {
    seen.probes.push(String(path));
    return real.rm(path, options);
  };
  return { ...real, rm: noted };
});

it("what a killed run leaves of its trial of a folder is removed by the next", async () => {
  const folder = await mkdtemp(join(tmpdir(), "frontpace-leftovers-"));
  try {
    await prepareOutput(folder);
    const probe = seen.probes.find((path) => path.startsWith(join(folder, ".")))!;
    const ended = spawnSync(process.execPath, ["-e", ""]).pid;
    const left = probe.replace(String(process.pid), String(ended));
    expect(left).not.toBe(probe);
    for (const file of [probe, left]) await writeFile(file, "");
    await removeLeftovers(folder);
    expect(await readdir(folder)).toEqual([probe.slice(folder.length + 1)]);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
});
