import { writeFile } from "node:fs/promises";
import { seededNormal, step } from "./render-take.js";

export interface RawTake {
  readonly frames: number;
  readonly rows?: number;
  readonly columns?: number;
  /** A smooth bright step that enters from the left in this frame and runs along the rows, and whether it stays. */
  readonly events?: readonly {
    readonly frame: number;
    readonly pixelsPerFrame: number;
    readonly stays: boolean;
    /** DN. Default 100. */
    readonly contrast?: number;
  }[];
  /** From this frame on the picture is everywhere so many DN brighter. */
  readonly lamp?: { readonly frame: number; readonly brighter: number };
  /** DN. Default 2. */
  readonly noise?: number;
  /** A bar of 8 by 20 px at the lower edge is another in every frame, as a counter is. */
  readonly bar?: true;
}

/** Width of a stripe that passes, px. */
const STRIPE = 12;
/** The step is seen so many pixels ahead of its middle. */
const FOOT = 4;

/** Writes an invented take as 8-bit samples without a header, with seeded noise.
 *  @returns its layout as `--raw` takes it */
export async function writeRawTake(file: string, take: RawTake): Promise<string> {
  const { frames, rows = 12, columns = 64, events = [], noise = 2, lamp, bar } = take;
  const normal = seededNormal(3);
  const table = Float32Array.from({ length: 20_011 }, () => noise * normal());
  const size = rows * columns;
  const samples = new Uint8Array(frames * size);
  for (let frame = 0, k = 0, n = 0; frame < frames; frame++)
    for (let i = 0; i < size; i++, k++, n = (n + 1) % table.length) {
      let light = 60 + (lamp && frame >= lamp.frame ? lamp.brighter : 0);
      for (const { frame: first, pixelsPerFrame, stays, contrast = 100 } of events) {
        const behind = (frame - first) * pixelsPerFrame - FOOT - (i % columns);
        if (frame >= first) light += contrast * (step(-behind) - (stays ? 0 : step(STRIPE - behind)));
      }
      const column = i % columns;
      const isBar = bar && i >= (rows - 8) * columns && column >= 10 && column < 30;
      // Bits of a number that is another in every frame: dark or bright, as the pixels of digits are.
      if (isBar) light = 60 + 150 * ((Math.imul(frame, 2654435761) >>> (16 + (column >> 2))) & 1);
      samples[k] = Math.max(0, Math.min(255, Math.round(light + table[n])));
    }
  await writeFile(file, samples);
  return `${columns}x${rows}:u8`;
}
