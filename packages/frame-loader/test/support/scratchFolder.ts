import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { onTestFinished } from "vitest";
import { handPng } from "./handPng.js";

/** A folder with these files, removed when the test ends. A name without content is a grey still of one pixel. */
export async function scratchFolder(files: Readonly<Record<string, Uint8Array>> | readonly string[]) {
  const folder = await mkdtemp(join(tmpdir(), "frames-"));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const pixel = handPng({ columns: 1, rows: 1, bits: 8, colourType: 0, samples: Uint8Array.of(7) });
  const entries: [string, Uint8Array][] = Array.isArray(files)
    ? files.map((name: string) => [name, pixel])
    : Object.entries(files);
  await Promise.all(entries.map(([name, content]) => writeFile(join(folder, name), content)));
  return folder;
}
