import { erf } from "@frontpace/fit";
import ndarray from "ndarray";
import type { ArrivalSource } from "../../src/index.js";

/** An invented take: a front whose distance behind or ahead is given for every place and time. */
export interface Scene {
  readonly numbers: readonly number[];
  readonly rows: number;
  readonly columns: number;
  /** How far the front is past this place, px; negative: still to come. */
  readonly past: (x: number, y: number, time: number) => number;
  /** Standard deviation of the blur, px. Default 1. */
  readonly blurPixels?: number;
  readonly shape?: "step" | "ring";
  /** Defaults 100, 60, 0. */
  readonly before?: number;
  readonly step?: number;
  readonly noise?: number;
  /** Default 1 in every frame. */
  readonly light?: (number: number) => number;
  readonly dirt?: (x: number, y: number) => number;
  readonly seed?: number;
}

/** Places in a pixel and their weights: two-point Gauss-Legendre each way. */
const PLACES = [-0.5 / Math.sqrt(3), 0.5 / Math.sqrt(3)];

export function renderScene(scene: Scene): ArrivalSource {
  const { numbers, rows, columns, past, blurPixels = 1, shape = "step", before = 100, step = 60 } = scene;
  const { noise = 0, light = () => 1, dirt = () => 1, seed = 1 } = scene;
  const share = (x: number, y: number, time: number) => {
    const z = past(x, y, time) / blurPixels;
    return shape === "step" ? (1 + erf(z / Math.SQRT2)) / 2 : Math.exp((-z * z) / 2);
  };
  return {
    numbers,
    rows,
    columns,
    async *frames({ start = 0, end = numbers.length } = {}, _region, { signal } = {}) {
      for (let index = start; index < end; index++) {
        signal?.throwIfAborted();
        const number = numbers[index];
        const normal = normalFrom(seed * 7919 + number);
        const data = new Float32Array(rows * columns);
        for (let y = 0, at = 0; y < rows; y++)
          for (let x = 0; x < columns; x++, at++) {
            let sum = 0;
            const middle = past(x, y, number);
            if (Math.abs(middle) > 6 * blurPixels + 1) sum = shape === "step" && middle > 0 ? 4 : 0;
            else for (const dx of PLACES) for (const dy of PLACES) sum += share(x + dx, y + dy, number);
            data[at] = (before + (step * sum) / 4) * dirt(x, y) * light(number) + (noise && noise * normal());
          }
        yield { index, number, frame: ndarray(data, [rows, columns]) };
      }
    },
  };
}

/** Standard normal numbers, the same for the same seed (a 32-bit counter, mixed; Box and Muller 1958, from memory). */
export function normalFrom(seed: number): () => number {
  let state = Math.imul(seed, 0x9e3779b9) >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
