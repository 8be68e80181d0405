import { createHash, type Hash } from "node:crypto";
import { closeSync, openSync, readSync, statSync } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { checkRegular, FrameLoadError, listFolder, unreadableFrame } from "@frontpace/frame-loader";
import {
  type MeasureOptions,
  programVersion,
  readTakeFile,
  TakeError,
  takeFileOf,
  unreadableReason,
} from "@frontpace/take";
import { pathOfTake } from "./find-takes.js";
import { filesOfTake, layeredOptions } from "./layered-options.js";
import type { FilesWanted } from "./measure-to-files.js";

/** Bytes of a frame hashed at a time. */
const PART_BYTES = 1 << 20;

/** SHA-256 over all that the files of a measurement follow from: names and bytes of the frames, options and take.json, the files that
 *  these name, what is to be drawn, and the version of the program.
 *  @param inherited  options as `layeredOptions` gives them
 *  @returns 64 lower-case hexadecimal digits
 *  @throws FrameLoadError `not-a-folder`, `unreadable-folder`, and `unreadable-frame`, but where stills may be left out; TakeError `file-unreadable` */
export async function takeIdentity(
  take: string,
  inherited: MeasureOptions,
  wanted: FilesWanted,
): Promise<string> {
  const hash = createHash("sha256");
  const own = await readTakeFile(take);
  const { calibration: _, timestamps: __, plan: ___, ...values } = inherited;
  add(
    hash,
    JSON.stringify([programVersion, basename(resolve(take)), wanted, sorted(values), sorted({ ...own })]),
  );
  for (const [key, file] of Object.entries(await filesOfTake(take, inherited))) {
    add(hash, key);
    add(hash, await contentOf(key, file));
  }
  const skipsBad = inherited.skipBad ?? own?.skipBad ?? false;
  const buffer = Buffer.allocUnsafeSlow(PART_BYTES);
  for (const { name, path } of await frameFiles(take)) {
    add(hash, name);
    try {
      const found = statSync(path);
      checkRegular(name, found);
      add(hash, String(found.size));
      addContent(hash, path, buffer);
    } catch (cause) {
      if (!skipsBad) throw cause instanceof FrameLoadError ? cause : unreadableFrame(name, cause);
      add(hash, "unreadable");
    }
  }
  return hash.digest("hex");
}

/** The whole of a file, in parts that lie in one buffer: a take may have very many small files, of which
 *  each asked for by itself took longer than to read it, and a buffer each was long work for the collector. */
function addContent(hash: Hash, path: string, buffer: Buffer): void {
  const file = openSync(path, "r");
  try {
    for (;;) {
      const bytes = readSync(file, buffer, 0, buffer.length, null);
      if (bytes === 0) return;
      hash.update(buffer.subarray(0, bytes));
    }
  } finally {
    closeSync(file);
  }
}

async function contentOf(key: string, file: string): Promise<Buffer> {
  try {
    return await readFile(file);
  } catch (cause) {
    const message = `the ${key} ${file} cannot be read (${unreadableReason(cause)}): name a readable file`;
    throw new TakeError("file-unreadable", message, { file }, { cause });
  }
}

/** Time of the last change of anything in `takeStamp`, ms. */
export async function lastChange(take: string): Promise<number> {
  const times = (await statsOf(take)).map(({ mtimeMs }) => Number(mtimeMs));
  return times.reduce((latest, time) => Math.max(latest, time), Number.NEGATIVE_INFINITY);
}

/** What shows that a take is being written to: name, size and time of the last change of every file of its frames, and of its take.json. */
export async function takeStamp(take: string): Promise<string> {
  return (await statsOf(take)).map(stampOf).join("\n");
}

function stampOf({ path, size, mtimeNs, ino }: Awaited<ReturnType<typeof statsOfFiles>>[number]): string {
  return `${basename(path)} ${size} ${mtimeNs} ${ino}`;
}

/** The same with what stands outside a take and decides over it: options from above it, and the files that these and its own name.
 *  @param name  of the take below the folder that was searched
 *  @throws where its frames cannot be listed */
export async function stampWithOptions(
  folder: string,
  name: string,
  defaults: MeasureOptions,
): Promise<string> {
  const take = pathOfTake(folder, name);
  const own = await takeStamp(take);
  try {
    const options = await layeredOptions(folder, name, defaults);
    const named = statsOfFiles(Object.values(await filesOfTake(take, options)));
    return [own, JSON.stringify(sorted({ ...options })), ...named.map(stampOf)].join("\n");
  } catch (error) {
    // A take.json that is none fails the take, until it is another.
    return `${own}\n${String(error)}`;
  }
}

async function statsOf(take: string) {
  return statsOfFiles([...(await frameFiles(take)).map(({ path }) => path), await takeFileOf(take)]);
}

function statsOfFiles(files: readonly string[]) {
  return files.map(statsOfFile).filter((found) => found !== null);
}

/** Waited for: a take may have very many files, and to be told of each in its turn takes several times as long as the answer. */
function statsOfFile(path: string) {
  try {
    const { size, mtimeNs, mtimeMs, ino } = statSync(path, { bigint: true });
    return { path, size, mtimeNs, mtimeMs, ino };
  } catch {
    return null;
  }
}

async function frameFiles(take: string): Promise<{ readonly name: string; readonly path: string }[]> {
  if ((await stat(take).catch(() => null))?.isFile()) return [{ name: basename(take), path: take }];
  return (await listFolder(take)).stills.map((name) => ({ name, path: join(take, name) }));
}

/** With its length ahead, so that no two lists of parts are the same bytes. */
function add(hash: Hash, part: string | Uint8Array): void {
  hash.update(`${typeof part === "string" ? Buffer.byteLength(part) : part.length}:`);
  hash.update(part);
}

function sorted(values: Readonly<Record<string, unknown>>): unknown[] {
  return Object.entries(values).sort(([a], [b]) => (a < b ? -1 : 1));
}
