import ndarray from "ndarray";
import type { Frame, Region } from "../types.js";
import type { FrameKind } from "./frame-header.js";
import { luminance } from "./luminance.js";

/** Samples as they are stored, in the byte order of this machine. */
export type Samples = Uint8Array | Uint16Array | Float32Array;

/** A frame of stored samples: colour becomes luminance, and a transfer function is undone where that is asked for.
 *  @param samples  row-major, of colour red, green and blue interleaved
 *  @param light  light by stored sample, where it is to be had instead of the samples
 *  @returns shape [region.rows, region.columns] */
export function frameOf(
  samples: Samples,
  { colour }: Pick<FrameKind, "colour">,
  { rows, columns }: Pick<Region, "rows" | "columns">,
  light: Float64Array | null,
): Frame {
  const values = colour ? luminance(samples, light) : light ? toLight(samples, light) : samples;
  return ndarray<Samples>(values, [rows, columns]);
}

/** Bytes as samples; a copy only where they do not lie on a boundary of their size. */
export function typedSamples(bytes: Buffer, bitDepth: 8 | 16 | 32): Samples {
  const size = bitDepth / 8;
  const aligned = bytes.byteOffset % size === 0 ? bytes : Uint8Array.from(bytes);
  const { buffer, byteOffset } = aligned;
  const length = aligned.byteLength / size;
  if (bitDepth === 8) return new Uint8Array(buffer, byteOffset, length);
  if (bitDepth === 16) return new Uint16Array(buffer, byteOffset, length);
  return new Float32Array(buffer, byteOffset, length);
}

function toLight(samples: ArrayLike<number>, light: Float64Array): Float32Array<ArrayBuffer> {
  const result = new Float32Array(samples.length);
  for (let i = 0; i < result.length; i += 1) result[i] = light[samples[i]];
  return result;
}
