import { dirname, resolve } from "node:path";
import { readTakeFile, realPath, takeFileOf } from "@frontpace/take";
import type { FootageSource } from "./types.js";

/** Where the frames of a take come from by its take.json, through as many copies as there are. Links are resolved: by another name it is the same
 *  take. What was copied out of need no longer be there. */
export async function footageSource(take: string): Promise<FootageSource> {
  const own = await realPath(take);
  const seen = new Set([own]);
  for (let [place, origin] = [take, own]; ; ) {
    const file = await readTakeFile(place).catch(() => null);
    if (file?.copiedFrom === undefined) return { origin, isCopy: origin !== own };
    place = resolve(await realPath(dirname(await takeFileOf(place))), file.copiedFrom);
    origin = await realPath(place);
    if (seen.has(origin)) return { origin, isCopy: true };
    seen.add(origin);
  }
}
