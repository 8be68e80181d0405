import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { crossingScene } from "../bench/take/scene.js";
import { writeStills } from "../bench/take/write-stills.js";

const command = fileURLToPath(new URL("../../packages/cli/bin/frontpace.js", import.meta.url));

/** An invented day: tiles of two firings, and one that is filmed alone, with what they share in a take.json above them. */
export async function writeDay(folder: string, takes: number): Promise<string> {
  await mkdir(folder, { recursive: true });
  const known = { format: "frontpace-take", version: 1, rateHz: 100e3, rateUncertaintyHz: 10 };
  const scale = { metresPerPixel: 2e-4, metresPerPixelUncertainty: 1e-6 };
  await writeFile(join(folder, "take.json"), JSON.stringify({ ...known, ...scale }));
  for (let k = 0; k < takes; k++) {
    const firing = join(folder, k % 2 === 0 ? "first-firing" : "second-firing");
    await mkdir(firing, { recursive: true });
    await writeStills(join(firing, `tile-${k}`), crossingScene(30 + k, 16, 96, 8), "png");
  }
  return folder;
}

export interface Ended {
  /** null: killed. */
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** The built command on a folder: build first.
 *  @param before  program and arguments that run it. Default: none. */
export function startBatch(
  folder: string,
  out: string,
  options: readonly string[] = [],
  before: readonly string[] = [],
): { readonly child: ChildProcess; readonly end: Promise<Ended> } {
  const [program, ...args] = [
    ...before,
    process.execPath,
    command,
    "batch",
    folder,
    "--out",
    out,
    ...options,
  ];
  const child = spawn(program, args, { stdio: ["ignore", "pipe", "pipe"] });
  let stdout = "";
  let stderr = "";
  child.stdout?.on("data", (part) => {
    stdout += part;
  });
  child.stderr?.on("data", (part) => {
    stderr += part;
  });
  const end = new Promise<Ended>((resolve, reject) => {
    child.on("error", reject);
    // Not "close": workers that outlive the command for a moment hold its streams open.
    child.on("exit", (code) => setImmediate(() => resolve({ code, stdout, stderr })));
  });
  return { child, end };
}

/** Digest of every file below a folder, hidden ones too, by its name. */
export async function digests(folder: string): Promise<Record<string, string>> {
  const names = (await readdir(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();
  const found: Record<string, string> = {};
  for (const name of names)
    found[name] = createHash("sha256")
      .update(await readFile(join(folder, name)))
      .digest("hex");
  return found;
}

/** Names of files that are there in one only, or that differ. */
export function differences(
  found: Readonly<Record<string, string>>,
  expected: Readonly<Record<string, string>>,
): string[] {
  const names = new Set([...Object.keys(found), ...Object.keys(expected)]);
  return [...names].filter((name) => found[name] !== expected[name]).sort();
}
