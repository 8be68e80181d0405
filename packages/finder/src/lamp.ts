import ndarray, { type NdArray } from "ndarray";
import { type CellGrid, describeFrame } from "./cell-grid.js";
import { type SmoothLight, smoothLight } from "./smooth-light.js";
import type { FrameSamples } from "./types.js";

/** A change of the light everywhere at once that stays, by places of frames. */
export interface Lamp {
  /** The first frame that differs, and the first in which the change is complete. */
  readonly first: number;
  readonly last: number;
  readonly isBrighter: boolean;
  /** Mean brightness of the picture behind over that before. */
  readonly factor: number;
  /** Change of the picture, noise levels of one frame. */
  readonly strength: number;
  /** Mean descriptor of frames in the lesser light, and how it makes the greater. */
  readonly dim: Float64Array;
  readonly light: SmoothLight;
  /** Standard deviation of a cell of one frame, unit of the samples. */
  readonly noise: number;
  /** Noise in the lesser light over that of frames of the greater which were made darker, >= 1. */
  readonly noiseRatio: number;
}

/** How many times the noise in the lesser light is that of a frame that was made darker; 1 where it was not.
 *  @param at  place of the frame */
export function noiseRatioAt(at: number, { first, isBrighter, noiseRatio }: Lamp): number {
  return at < first === isBrighter ? 1 : noiseRatio;
}

/** A frame as the lesser light would show it: made darker and never brighter, which would raise its noise.
 *  @param at  place of the frame */
export function inLesserLight(
  frame: NdArray<FrameSamples>,
  at: number,
  { first, last, isBrighter, dim, light, noise }: Lamp,
  grid: CellGrid,
): NdArray<FrameSamples> {
  if (at >= first && at < last)
    return undone(frame, smoothLight(dim, describeFrame(frame, grid), grid, noise));
  return at < first === isBrighter ? frame : undone(frame, light);
}

/** Less light than this part of the lesser one is taken for so much: what is dark cannot be told there. */
const LEAST_FACTOR = 0.1;

function undone(frame: NdArray<FrameSamples>, { factor, offset }: SmoothLight): NdArray<FrameSamples> {
  const { data, offset: start } = frame;
  const [rows, columns] = frame.shape;
  const [rowStride, columnStride] = frame.stride;
  const samples = new Float32Array(rows * columns);
  for (let row = 0, k = 0; row < rows; row++) {
    const y = row / rows - 0.5;
    const f = factor[0] + y * (factor[2] + y * factor[5]);
    const o = offset[0] + y * (offset[2] + y * offset[5]);
    const fx = factor[1] + y * factor[4];
    const ox = offset[1] + y * offset[4];
    for (let column = 0, at = start + row * rowStride; column < columns; column++, at += columnStride) {
      const x = column / columns - 0.5;
      const times = f + x * (fx + x * factor[3]);
      const plus = o + x * (ox + x * offset[3]);
      samples[k++] = (data[at] - plus) / Math.max(LEAST_FACTOR, times);
    }
  }
  return ndarray(samples, [rows, columns]);
}
