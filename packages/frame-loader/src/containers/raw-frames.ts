import type { Container } from "../places/container.js";
import { plainFrames } from "../places/plain-frames.js";
import type { PositionedFile } from "../places/positioned-file.js";
import { wholeFrames } from "../places/whole-frames.js";

/** How samples without a header lie in a file. */
export interface RawLayout {
  readonly columns: number;
  readonly rows: number;
  readonly sample: "u8" | "u16le" | "u16be" | "f32le";
  /** Bytes before the first frame. Default: 0. */
  readonly offset?: number;
  /** Bytes between two frames. Default: 0. */
  readonly gap?: number;
}

const BIT_DEPTHS = { u8: 8, u16le: 16, u16be: 16, f32le: 32 } as const;

/** Grey samples without a header, frame after frame.
 *  @throws FrameLoadError `corrupt-frame` where not one whole frame is there */
export function openRaw(file: PositionedFile, layout: RawLayout): Container {
  const { rows, columns, sample, offset = 0, gap = 0 } = layout;
  const kind = { rows, columns, bitDepth: BIT_DEPTHS[sample], colour: false };
  const { count, frameBytes, warnings } = wholeFrames(file, kind, offset, null, gap);
  return plainFrames(file, {
    kind,
    count,
    warnings,
    bigEndian: sample === "u16be",
    placeOf: (index) => offset + index * (frameBytes + gap),
  });
}

/** Reads `COLUMNSxROWS:u8|u16le|u16be|f32le[@offset][+gap]`.
 *  @returns null where the text is none */
export function parseRawLayout(text: string): RawLayout | null {
  const found = /^(\d{1,9})x(\d{1,9}):(u8|u16le|u16be|f32le)(?:@(\d{1,15}))?(?:\+(\d{1,15}))?$/.exec(text);
  if (!found) return null;
  const [, columns, rows, sample, offset = "0", gap = "0"] = found;
  if (Number(columns) < 1 || Number(rows) < 1) return null;
  return {
    columns: Number(columns),
    rows: Number(rows),
    sample: sample as RawLayout["sample"],
    offset: Number(offset),
    gap: Number(gap),
  };
}
