import { readdir, readFile, stat } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { defaultFolder } from "./output-folder.js";

/** What of a summary.json is needed here. */
interface BatchTake {
  readonly take: string;
  readonly result: string | null;
  readonly error: { readonly message: string } | null;
}

interface Batch {
  /** Of summary.json. */
  readonly folder: string;
  readonly takes: readonly BatchTake[];
}

/** What to give in place of something that is no result: the result beside it, that of the take which it is, or one of a batch, whose takes may be
 *  named by their footage, by their own name, or by a folder above them.
 *  @returns what to do, in words; null where nothing is near */
export async function resultNear(named: string): Promise<string | null> {
  const own = await defaultFolder(named);
  const isFile = (await stat(named).catch(() => null))?.isFile() ?? false;
  const beside = isFile ? [dirname(named)] : [];
  for (const folder of [...beside, own])
    if (await isThere(join(folder, "result.json"))) return `give ${folder}, where it is`;
  for (const folder of await foldersAround(named)) {
    const batch = await batchIn(folder);
    if (batch === null) continue;
    const isBatch = [...beside, named, own].some((one) => resolve(one) === folder);
    const hint =
      isBatch || (await isThere(join(named, batch.takes[0].take)))
        ? ofSeveral(batch, batch.takes)
        : ofMeant(batch, named);
    if (hint) return hint;
  }
  return null;
}

/** Whole paths where a batch that something belongs to may have its summary: there, in the folders above and where a batch of these writes by
 *  itself, then, for `--out` may name any, in the folders of the working one and in those beside it. */
async function foldersAround(named: string): Promise<Set<string>> {
  const around = new Set<string>();
  for (let place = resolve(named); ; place = dirname(place)) {
    around.add(place).add(resolve(await defaultFolder(place)));
    if (dirname(place) === place) break;
  }
  for (const place of [process.cwd(), dirname(process.cwd())]) {
    const entries = await readdir(place, { withFileTypes: true }).catch(() => []);
    const folders = entries.filter((entry) => entry.isDirectory()).map(({ name }) => name);
    for (const name of folders.sort()) around.add(join(place, name));
  }
  return around;
}

async function batchIn(folder: string): Promise<Batch | null> {
  try {
    const { format, takes } = JSON.parse(await readFile(join(folder, "summary.json"), "utf8"));
    return format === "frontpace-summary" && takes.length > 0
      ? { folder: relative(process.cwd(), folder) || ".", takes }
      : null;
  } catch {
    return null;
  }
}

/** What a batch has of a take, or of the takes of a folder, that a path to their footage or among the results may mean. */
function ofMeant(batch: Batch, named: string): string | null {
  const path = slashed(resolve(named));
  const within = slashed(relative(batch.folder, named));
  const isInside = within !== ".." && !within.startsWith("../");
  const short = isInside ? within : slashed(relative(process.cwd(), named));
  const isMeant = (name: string) => path.endsWith(`/${name}`) || `/${name}`.endsWith(`/${short}`);
  const take = batch.takes.find((one) => isMeant(one.take));
  if (take?.error)
    return `the batch in ${batch.folder} could not measure ${take.take} (${take.error.message})`;
  if (take?.result) return `a batch has the result of ${take.take}: give ${folderOf(batch, take.result)}`;
  const below = batch.takes.filter((one) => one.take.includes("/") && isMeant(dirname(one.take)));
  if (below.length > 0) return ofSeveral(batch, below);
  return isInside ? `the batch in ${batch.folder} has no such take (${pageOf(batch)})` : null;
}

function ofSeveral(batch: Batch, takes: readonly BatchTake[]): string {
  const first = takes.find(({ result }) => result !== null)?.result;
  return first
    ? `each take of a batch has its own, so give one of them, for example ${folderOf(batch, first)} (${pageOf(batch)})`
    : `the batch in ${batch.folder} could measure none of them (${pageOf(batch)})`;
}

const folderOf = ({ folder }: Batch, result: string): string => dirname(join(folder, result));
const pageOf = ({ folder }: Batch): string => `${join(folder, "summary.html")} shows all its takes`;
const slashed = (path: string): string => path.split(sep).join("/");

async function isThere(path: string): Promise<boolean> {
  return (await stat(path).catch(() => null)) !== null;
}
