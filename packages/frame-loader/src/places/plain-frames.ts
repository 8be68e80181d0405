import type { FrameKind } from "../samples/frame-header.js";
import { type Samples, typedSamples } from "../samples/frame-of.js";
import type { FrameWarning, Region } from "../types.js";
import type { Container } from "./container.js";
import type { PositionedFile } from "./positioned-file.js";

/** Frames that lie uncompressed in a file, each at a known place, row after row without gaps. */
export interface PlainLayout {
  readonly kind: FrameKind;
  readonly count: number;
  readonly warnings: readonly FrameWarning[];
  readonly bigEndian: boolean;
  /** Byte at which a frame's first sample lies.
   *  @throws FrameLoadError `corrupt-frame` where the frame is not there */
  placeOf(index: number): number | Promise<number>;
}

/** A container of such frames. Only the rows of the region are read. */
export function plainFrames(file: PositionedFile, layout: PlainLayout): Container {
  const { kind, count, warnings, bigEndian, placeOf } = layout;
  const channels = kind.colour ? 3 : 1;
  const pixelBytes = (kind.bitDepth / 8) * channels;
  const rowBytes = kind.columns * pixelBytes;
  return {
    kind,
    count,
    warnings,
    async readSamples(index, region) {
      const place = await placeOf(index);
      const bytes = await file.read(place + region.row * rowBytes, region.rows * rowBytes);
      if (bigEndian) swapBytes(bytes, kind.bitDepth);
      return croppedColumns(typedSamples(bytes, kind.bitDepth), region, kind.columns, channels);
    },
    readingBytes: ({ rows }) => rows * rowBytes,
    isDecoded: false,
    checkUnchanged: () => file.checkUnchanged(),
    close: () => file.close(),
  };
}

/** Turns big-endian samples to the byte order of this machine, in place. */
export function swapBytes(bytes: Buffer, bitDepth: 8 | 16 | 32): void {
  if (bitDepth === 16) bytes.swap16();
  else if (bitDepth === 32) bytes.swap32();
}

/** The columns of a region out of whole rows. */
export function croppedColumns(
  samples: Samples,
  { rows, column, columns }: Pick<Region, "rows" | "column" | "columns">,
  width: number,
  channels: number,
): Samples {
  if (columns === width) return samples;
  const cropped = new (samples.constructor as new (length: number) => Samples)(rows * columns * channels);
  for (let r = 0; r < rows; r++) {
    const from = (r * width + column) * channels;
    cropped.set(samples.subarray(from, from + columns * channels), r * columns * channels);
  }
  return cropped;
}
