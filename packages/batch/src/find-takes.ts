import { type Dirent, promises } from "node:fs";
import { extname, join, resolve, sep } from "node:path";
import { type FolderListing, listFolder, openFrames } from "@frontpace/frame-loader";
import { outputNames } from "./measure-to-files.js";

/** Extensions of files that hold frames and say so themselves, in lower case; multi-page TIFFs are told by what is in them. */
const CONTAINER = new Set([".npy", ".y4m", ".mp4", ".m4v", ".mov", ".avi", ".mkv"]);
const TIFF = /\.tiff?$/i;
/** What the program itself leaves beside a result.json and could pass for a take: arrays of a map, a clip and a folder of pictures to be laid over the footage. */
const OF_RESULT = new Set<string>([...outputNames, "overlay.mp4", "overlay"]);

/** A take below a folder, or a folder that could not be looked into. */
export interface FoundTake {
  /** Below the folder that was searched, with "/" between names; "." for that folder itself. */
  readonly name: string;
  /** Why nothing below it was looked at: null for a take. */
  readonly unreadable: unknown;
}

/** Every take below a folder, the folder itself included: folders with at least two numbered stills, and files that hold frames
 *  (NumPy arrays, YUV4MPEG2, clips, multi-page TIFFs, and whatever NAME.take.json stands beside). What is hidden, links to folders and what
 *  a measurement or an overlay left beside its result.json are passed over, and so are folders named in `except`.
 *  @returns in order of name, the same whatever order the disk lists them in
 *  @throws the frame loader's error where the folder itself cannot be listed */
export async function findTakes(folder: string, except: readonly string[] = []): Promise<FoundTake[]> {
  const left = new Set(except.map((path) => resolve(path)));
  const found: FoundTake[] = [];
  await lookInto("", await listFolder(folder));
  return found.sort((a, b) => (a.name < b.name ? -1 : 1));

  async function lookInto(below: string, listing: FolderListing): Promise<void> {
    const all = await promises.readdir(join(folder, below), { withFileTypes: true });
    const hasResult = all.some(({ name }) => name === "result.json");
    const entries = all.filter((entry) => isShown(entry) && !(hasResult && OF_RESULT.has(entry.name)));
    const files = entries.filter((entry) => entry.isFile()).map(({ name }) => name);
    const containers = await containersAmong(join(folder, below), files);
    const stills = listing.stills.filter((name) => /\d/.test(name) && !containers.has(name));
    if (stills.length > 1) found.push({ name: below || ".", unreadable: null });
    for (const name of containers) found.push({ name: inFolder(below, name), unreadable: null });
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
}

const isShown = ({ name }: Dirent): boolean => !name.startsWith(".");
const inFolder = (below: string, name: string): string => (below === "" ? name : `${below}/${name}`);

/** Path of a take that was found. */
export function pathOfTake(folder: string, name: string): string {
  return name === "." ? folder : join(folder, ...name.split("/"));
}

async function containersAmong(folder: string, files: readonly string[]): Promise<Set<string>> {
  const described = new Set(
    files.filter((name) => name.endsWith(".take.json")).map((name) => name.slice(0, -".take.json".length)),
  );
  const isNamed = (name: string) =>
    CONTAINER.has(extname(name).toLowerCase()) ||
    (!name.endsWith(".json") && described.has(name.slice(0, name.length - extname(name).length)));
  const tiffs = files.filter((name) => TIFF.test(name));
  // Of stills there may be thousands: the first one of a kind tells.
  const kindOf = (name: string) => name.replace(/\d+/g, "#");
  const kinds = new Map<string, boolean>();
  for (const name of tiffs)
    if (!kinds.has(kindOf(name))) kinds.set(kindOf(name), await hasPages(folder + sep + name));
  return new Set(files.filter((name) => isNamed(name) || kinds.get(kindOf(name)) === true));
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
