import ndarray, { type NdArray } from "ndarray";
import { seededNormal, seededUniform } from "../../../../test/support/seeded-normal.js";
import type { EventSource, FrameRegion, FrameSamples } from "../../src/index.js";

/** Something that happens in an invented take. */
export interface InventedEvent {
  /** `front`: a level that runs over the picture from the left and stays; `crack`: a line one pixel wide that grows along a
   *  row; `stripe`: a stripe that crosses the picture and leaves nothing; `spot`: a patch that lights up and goes out. */
  readonly shape: "front" | "crack" | "stripe" | "spot";
  /** Index of the first frame that shows it, and frames that show it in motion. */
  readonly first: number;
  readonly duration: number;
  /** DN, of either sign. */
  readonly contrast: number;
  /** px; of a stripe its width, of a spot its side. Default 6. */
  readonly size?: number;
}

/** A lamp that is switched on or off everywhere at once, and stays so. */
export interface InventedLamp {
  /** Index of the first frame that shows it; with `rise` of so many frames in which it comes up evenly, default 1. */
  readonly first: number;
  readonly rise?: number;
  /** Brightness times this, and plus this, DN. Default: 1, and 0. */
  readonly factor?: number;
  readonly offset?: number;
  /** How much more of it the right edge has than the left, and, `spot`, how much less the corners have than the middle, as parts of it.
   *  Default: 0. */
  readonly uneven?: number;
  readonly spot?: number;
}

export interface VirtualTake {
  readonly frames: number;
  readonly rows?: number;
  readonly columns?: number;
  readonly seed?: number;
  /** Brightness of the pixels lies within half of this about 90 DN. Default 40. */
  readonly texture?: number;
  /** Standard deviation of a pixel, DN. Default 2. */
  readonly noise?: number;
  /** Brightness swings by this part of itself, in so many frames; `uneven`: more on the left than on the right. */
  readonly flicker?: { readonly part: number; readonly period: number; readonly uneven?: boolean };
  /** Lamps that warm up: brightness grows by this part of itself over the take, more on the right. */
  readonly drift?: number;
  readonly lamps?: readonly InventedLamp[];
  readonly events?: readonly InventedEvent[];
  /** Soft dark specks that drift through the picture all the time, and enter again where they left it. */
  readonly dust?: number;
  /** So many rows at the top are black. */
  readonly black?: number;
  /** A counter is written at the lower edge, white on what lies there, and counts so much in a frame. */
  readonly counter?: number;
}

const TABLE = 1 << 16;
const normals = (() => {
  const normal = seededNormal(20261127);
  return Float32Array.from({ length: TABLE + 8192 }, normal);
})();

/** A take without files: every frame is worked out when it is asked for. `reads` counts the distinct ones. */
export function virtualTake(take: VirtualTake): EventSource & { readonly reads: ReadonlySet<number> } {
  const { frames: count, rows = 16, columns = 64, seed = 1, noise = 2, events = [], lamps = [] } = take;
  const uniform = seededUniform(seed);
  const { texture = 40 } = take;
  const plain = Float32Array.from({ length: rows * columns }, () => 90 + texture * (uniform() - 0.5));
  const specks = Array.from({ length: take.dust ?? 0 }, () => ({
    row: rows * uniform(),
    column: columns * uniform(),
    pixelsPerFrame: 0.1 + 0.2 * uniform(),
  }));
  const reads = new Set<number>();
  const numbers: number[] = [];
  for (let i = 0; i < count; i++) numbers.push(i);

  function frameAt(index: number, region: FrameRegion): NdArray<FrameSamples> {
    reads.add(index);
    const light = plain.slice();
    for (const event of events) addEvent(light, event, index, columns, rows);
    for (const speck of specks) addSpeck(light, speck, index, columns, rows);
    const { flicker, drift = 0 } = take;
    const swing = flicker ? flicker.part * Math.sin((2 * Math.PI * index) / flicker.period) : 0;
    const grown = drift * (1 - Math.exp((-3 * index) / count));
    const from = Math.floor(seededUniform(seed * 7919 + index)() * TABLE);
    const data = new Uint8Array(rows * columns);
    for (let k = 0; k < data.length; k++) {
      const across = (k % columns) / columns;
      const factor = 1 + swing * (flicker?.uneven ? 1 - 0.5 * across : 1) + grown * (0.5 + across);
      const down = Math.floor(k / columns) / rows;
      let lit = light[k] * factor;
      for (const lamp of lamps) lit = litBy(lamp, index, lit, across - 0.5, down - 0.5);
      if (k < (take.black ?? 0) * columns) continue;
      data[k] = Math.max(0, Math.min(255, Math.round(lit + noise * normals[from + (k % 8192)])));
    }
    if (take.counter !== undefined) write(data, Math.floor(take.counter * index), rows, columns);
    return ndarray(data, [rows, columns])
      .hi(region.row + region.rows, region.column + region.columns)
      .lo(region.row, region.column);
  }

  const whole = { row: 0, column: 0, rows, columns };
  return {
    numbers,
    rows,
    columns,
    bitDepth: 8,
    reads,
    async read(index, region = whole) {
      return frameAt(index, region);
    },
    async *frames({ start = 0, end = count } = {}, region = whole) {
      for (let index = start; index < end; index++)
        yield { index, number: numbers[index], frame: frameAt(index, region) };
    },
  };
}

/** Digits of 3 by 5 px, row by row, as segments show them. */
const DIGITS = [
  "111101101101111",
  "010110010010111",
  "111001111100111",
  "111001111001111",
  "101101111001001",
  "111100111001111",
  "111100111101111",
  "111001010010010",
  "111101111101111",
  "111101111001111",
];

/** Seven digits from the left, each pixel of them twice as large, at the lower edge. */
function write(data: Uint8Array, count: number, rows: number, columns: number): void {
  const digits = String(count).padStart(7, "0");
  for (let i = 0; i < digits.length; i++)
    for (let k = 0; k < 60; k++) {
      const [row, column] = [Math.floor(k / 6), k % 6];
      if (DIGITS[Number(digits[i])][3 * (row >> 1) + (column >> 1)] === "0") continue;
      data[(rows - 12 + row) * columns + 3 + 8 * i + column] = 240;
    }
}

function litBy(
  { first, rise = 1, factor = 1, offset = 0, uneven = 0, spot = 0 }: InventedLamp,
  index: number,
  value: number,
  x: number,
  y: number,
): number {
  const on = Math.max(0, Math.min(1, (index - first + 1) / rise));
  const part = on * (1 + uneven * x) * (1 - spot + spot * Math.exp(-4 * (x * x + y * y)));
  return value * (1 + (factor - 1) * part) + offset * part;
}

/** Radius (standard deviation) of a speck, px, and its depth, DN. */
const [SPECK_RADIUS, SPECK_DEPTH] = [1.5, 20];

function addSpeck(
  light: Float32Array,
  speck: { readonly row: number; readonly column: number; readonly pixelsPerFrame: number },
  index: number,
  columns: number,
  rows: number,
): void {
  const middle = (speck.column + speck.pixelsPerFrame * index) % columns;
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const away = (row - speck.row) ** 2 + (column - middle) ** 2;
      light[row * columns + column] -= SPECK_DEPTH * Math.exp(-away / 2 / SPECK_RADIUS ** 2);
    }
}

function addEvent(
  light: Float32Array,
  { shape, first, duration, contrast, size = 6 }: InventedEvent,
  index: number,
  columns: number,
  rows: number,
): void {
  const step = index - first + 1;
  if (step <= 0) return;
  const passes = shape === "stripe" || shape === "spot";
  if (passes && step > duration) return;
  const add = (row: number, column: number, part: number) => {
    light[row * columns + column] += contrast * part;
  };
  if (shape === "spot") {
    const at = Math.floor(columns / 2 - size / 2);
    for (let r = 0; r < Math.min(rows, size); r++) for (let c = 0; c < size; c++) add(r, at + c, 1);
    return;
  }
  const way = shape === "stripe" ? columns + size : columns;
  // A stripe is last seen with its last whole pixels in the picture.
  const tip = (Math.min(step, duration) * way) / (duration + (shape === "stripe" ? 1 : 0));
  for (let c = 0; c < columns; c++) {
    const covered = Math.max(0, Math.min(1, tip - c));
    const left = shape === "stripe" ? Math.max(0, Math.min(1, tip - size - c)) : 0;
    const part = covered - left;
    if (part <= 0) continue;
    if (shape === "crack") add(rows >> 1, c, part);
    else for (let r = 0; r < rows; r++) add(r, c, part);
  }
}
