import { type Dirent, promises } from "node:fs";
import { extname, join, resolve, sep } from "node:path";
import { type FolderListing, listFolder, openFrames } from "@frontpace/frame-loader";
import { readTakeFile } from "@frontpace/take";
import { isDrawn } from "./is-drawn.js";
import { FILE_KEYS } from "./layered-options.js";
import { outputNames } from "./measure-to-files.js";

/** Extensions of files that hold frames and say so themselves, in lower case; multi-page TIFFs are told by what is in them. */
const CONTAINER = new Set([".npy", ".y4m", ".mp4", ".m4v", ".mov", ".avi", ".mkv"]);
/** Kinds of files that are marked where they are drawn. */
const MARKED = /\.(png|mp4)$/i;
const TIFF = /\.tiff?$/i;
const TAKE_FILE = ".take.json";
/** What the program itself leaves beside a result.json and could pass for a take: arrays of a map, a clip and a folder of pictures to be laid over the footage. */
const OF_RESULT = new Set<string>([...outputNames, "overlay.mp4", "overlay"]);

/** A take below a folder, or a folder that could not be looked into. */
export interface FoundTake {
  /** Below the folder that was searched, with "/" between names; "." for that folder itself. */
  readonly name: string;
  /** Why nothing below it was looked at: null for a take. */
  readonly unreadable: unknown;
}

/** What is left out of a search for takes, and who is told. */
export interface SearchContext {
  /** Folders that nothing is looked for in. */
  readonly except?: readonly string[];
  /** Called with the name of what could pass for a take but says itself that frontpace drew it. */
  readonly onDrawn?: (name: string) => void;
}

/** Every take below a folder, the folder itself included: folders with at least two numbered stills, and files that hold frames
 *  (NumPy arrays, YUV4MPEG2, clips, multi-page TIFFs, and whatever NAME.take.json describes). What is hidden, links to folders and what
 *  a measurement or an overlay left beside its result.json are passed over, and so is what says itself that it was drawn, wherever an overlay was written.
 *  @returns in order of name, the same whatever order the disk lists them in
 *  @throws the frame loader's error where the folder itself cannot be listed */
export async function findTakes(
  folder: string,
  { except = [], onDrawn }: SearchContext = {},
): Promise<FoundTake[]> {
  const left = new Set(except.map((path) => resolve(path)));
  const found: FoundTake[] = [];
  await lookInto("", await listFolder(folder));
  return found.sort((a, b) => (a.name < b.name ? -1 : 1));

  async function lookInto(below: string, listing: FolderListing): Promise<void> {
    const all = await promises.readdir(join(folder, below), { withFileTypes: true });
    const hasResult = all.some(({ name }) => name === "result.json");
    const entries = all.filter((entry) => isShown(entry) && !(hasResult && OF_RESULT.has(entry.name)));
    const files: string[] = [];
    for (const entry of entries) if (await isFile(entry, join(folder, below))) files.push(entry.name);
    const containers = await containersAmong(join(folder, below), files);
    const stills = listing.stills.filter((name) => /\d/.test(name) && !containers.has(name));
    const ends = [stills[0], stills[stills.length - 1]].map((name) => join(folder, below, name ?? ""));
    if (stills.length > 1) add(below || ".", ends);
    for (const name of containers) add(inFolder(below, name), [join(folder, below, name)]);
    for (const entry of entries) {
      const name = inFolder(below, entry.name);
      if (!entry.isDirectory() || left.has(resolve(folder, name))) continue;
      try {
        await lookInto(name, await listFolder(join(folder, name)));
      } catch (error) {
        found.push({ name, unreadable: error });
      }
    }
  }

  /** @param files  some of its files, which are drawn where the others are */
  function add(name: string, files: readonly string[]): void {
    if (files.every((file) => MARKED.test(file) && isDrawn(file))) onDrawn?.(name);
    else found.push({ name, unreadable: null });
  }
}

const isShown = ({ name }: Dirent): boolean => !name.startsWith(".");
/** A file, or a link to one: stills are read through links, too. */
async function isFile(entry: Dirent, folder: string): Promise<boolean> {
  if (!entry.isSymbolicLink()) return entry.isFile();
  const found = await promises.stat(join(folder, entry.name)).catch(() => null);
  return found?.isFile() ?? false;
}

const inFolder = (below: string, name: string): string => (below === "" ? name : `${below}/${name}`);

/** Path of a take that was found. */
export function pathOfTake(folder: string, name: string): string {
  return name === "." ? folder : join(folder, ...name.split("/"));
}

async function containersAmong(folder: string, files: readonly string[]): Promise<Set<string>> {
  const tiffs = files.filter((name) => TIFF.test(name));
  // Of stills there may be thousands: the first one of a kind tells.
  const kindOf = (name: string) => name.replace(/\d+/g, "#");
  const kinds = new Map<string, boolean>();
  for (const name of tiffs)
    if (!kinds.has(kindOf(name))) kinds.set(kindOf(name), await hasPages(folder + sep + name));
  const saysSo = (name: string) =>
    CONTAINER.has(extname(name).toLowerCase()) || kinds.get(kindOf(name)) === true;
  return new Set([...files.filter(saysSo), ...(await describedAmong(folder, files, saysSo))]);
}

/** Files that NAME.take.json stands beside: not those that it names, such as a table of times, nor what goes with a file of that name that says
 *  itself what it holds, such as a camera's notes.
 *  @param saysSo  whether a file says itself that it holds frames */
async function describedAmong(
  folder: string,
  files: readonly string[],
  saysSo: (name: string) => boolean,
): Promise<string[]> {
  const byStem = new Map<string, string[]>();
  for (const name of files) {
    if (name.endsWith(".json")) continue;
    const stem = name.slice(0, name.length - extname(name).length);
    byStem.set(stem, [...(byStem.get(stem) ?? []), name]);
  }
  const described: string[] = [];
  for (const takeFile of files.filter((name) => name.endsWith(TAKE_FILE))) {
    const mates = byStem.get(takeFile.slice(0, -TAKE_FILE.length));
    if (!mates) continue;
    // One that cannot be read fails the take, where it is measured.
    const own = await readTakeFile(join(folder, mates[0])).catch(() => null);
    if (own?.raw === undefined && mates.some(saysSo)) continue;
    const named = new Set(FILE_KEYS.flatMap((key) => own?.[key] ?? []).map((file) => resolve(folder, file)));
    described.push(...mates.filter((name) => !named.has(resolve(folder, name))));
  }
  return described;
}

/** A TIFF that cannot be read is a damaged still: that is said where it is measured. */
async function hasPages(file: string): Promise<boolean> {
  try {
    const frames = await openFrames(file);
    await frames.close();
    return frames.numbers.length > 1;
  } catch {
    return false;
  }
}
