import { open } from "node:fs/promises";
import { type Random, randomFrom } from "../../random.js";

/** A dark take in which a bright front crosses within a few frames. */
export interface LongTake {
  readonly frames: number;
  readonly rows: number;
  readonly columns: number;
  /** Index of the first frame in which anything is seen. */
  readonly from: number;
  /** Frames in which something changes. */
  readonly event: number;
  readonly kind: "stays" | "passes";
}

const SEED = 5113;
const BRIGHT = 150;
const GRAIN = 0.1;

/** Writes a take as 8-bit samples without a header. Dark frames are holes in the file: they take no room where the file system
 *  allows. What stays has to be stored up to the end.
 *  @returns the file */
export async function writeLongRaw(file: string, take: LongTake): Promise<string> {
  const { frames, rows, columns, from, event, kind } = take;
  const glaze = glazeOf(rows * columns, randomFrom(SEED));
  const width = columns / event;
  const handle = await open(file, "wx");
  try {
    const end = kind === "stays" ? frames : from + event;
    for (let frame = from; frame < end; frame++) {
      const step = Math.min(frame - from, event - 1);
      const first = kind === "stays" ? 0 : Math.round(step * width);
      const picture = litBetween(glaze, columns, first, Math.round((step + 1) * width));
      await handle.write(picture, 0, picture.length, frame * picture.length);
    }
    await handle.truncate(frames * rows * columns);
  } finally {
    await handle.close();
  }
  return file;
}

function glazeOf(pixels: number, random: Random): Uint8Array {
  return Uint8Array.from({ length: pixels }, () => BRIGHT * (1 + GRAIN * random.normal()));
}

/** The glaze where light falls on it, columns `first` to `end`, exclusive. */
function litBetween(glaze: Uint8Array, columns: number, first: number, end: number): Uint8Array {
  return glaze.map((level, at) => (at % columns >= first && at % columns < end ? level : 0));
}
