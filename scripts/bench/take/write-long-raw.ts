import { open } from "node:fs/promises";
import { type Random, randomFrom } from "../../random.js";

/** What the event leaves: a lit pane that was dark, a dark one that was lit, or nothing, where a flash of light crosses a dark
 *  pane. */
export type Leaves = "light" | "darkness" | "nothing";

/** A take in which a front crosses within some frames. */
export interface LongTake {
  readonly frames: number;
  readonly rows: number;
  readonly columns: number;
  /** Index of the first frame in which anything is seen. */
  readonly from: number;
  /** Frames in which something changes. */
  readonly event: number;
  readonly leaves: Leaves;
}

const SEED = 5113;
const BRIGHT = 150;
const GRAIN = 0.1;

/** Writes a take as 8-bit samples without a header. Dark frames are holes in the file: they take no room where the file system
 *  allows. Lit ones are stored: those after an event that leaves light, and those before one that leaves darkness.
 *  @returns the file */
export async function writeLongRaw(file: string, take: LongTake): Promise<string> {
  const { frames, rows, columns, from, event, leaves } = take;
  const glaze = glazeOf(rows * columns, randomFrom(SEED));
  const width = columns / event;
  const handle = await open(file, "wx");
  try {
    const firstLit = leaves === "darkness" ? 0 : from;
    const end = leaves === "light" ? frames : from + event;
    for (let frame = firstLit; frame < end; frame++) {
      const step = Math.max(-1, Math.min(frame - from, event - 1));
      const front = Math.round((step + 1) * width);
      const first = { light: 0, darkness: front, nothing: Math.round(step * width) }[leaves];
      const picture = litBetween(glaze, columns, first, leaves === "darkness" ? columns : front);
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
