import { edgeTable } from "../../accuracy/edge-table.js";
import { type Random, randomFrom } from "../../random.js";

/** An invented take for timing: a bright front runs to the right over a grained tile, alike in all rows. */
export interface Scene {
  readonly rows: number;
  readonly columns: number;
  readonly bits: 8 | 16;
  readonly frames: number;
  /** px a frame */
  readonly pixelsPerFrame: number;
  /** Column of the front at mid-exposure of frame 0. */
  readonly columnAtZero: number;
  /** Of noise and grain. Default: one and the same. */
  readonly seed?: number;
}

export type Picture = Uint8Array | Uint16Array;

const SEED = 407;
const BLUR_PIXELS = 1.4;
const SMEAR_SHARE = 0.4;
/** Of the whole range. */
const BEFORE = 0.24;
const STEP = 0.28;
const NOISE = 0.016;
const GRAIN = 0.04;
/** Noise is drawn once and taken from another place of the table in every row. */
const NOISE_VALUES = 1 << 20;

/** @param columns  of the picture, which the front crosses within the take */
export function crossingScene(frames: number, rows: number, columns: number, bits: 8 | 16): Scene {
  return { rows, columns, bits, frames, pixelsPerFrame: columns / (frames + 10), columnAtZero: 0 };
}

/** Frames of a scene by their index, always the same; an index before or behind the scene shows it as it was or as it
 *  has become.
 *  @returns row-major samples, shape [rows, columns]; each call fills a new array */
export function sceneRenderer(scene: Scene): (frame: number) => Picture {
  const { rows, columns, bits, pixelsPerFrame, columnAtZero, seed = SEED } = scene;
  const largest = 2 ** bits - 1;
  const random = randomFrom(seed);
  const noise = Float32Array.from(
    { length: NOISE_VALUES + columns },
    () => 0.5 + NOISE * largest * random.normal(),
  );
  const grain = grainOf(rows * columns, random);
  const edge = edgeTable(BLUR_PIXELS, SMEAR_SHARE * pixelsPerFrame);
  return (frame) => {
    const { integer } = randomFrom(seed + 1 + frame);
    const front = columnAtZero + pixelsPerFrame * frame;
    const profile = Float32Array.from(
      { length: columns },
      (_, column) => largest * (BEFORE + STEP * edge.value(front - column)),
    );
    const picture = bits === 8 ? new Uint8Array(rows * columns) : new Uint16Array(rows * columns);
    for (let row = 0, at = 0; row < rows; row++) {
      let from = integer(0, NOISE_VALUES - 1);
      for (let column = 0; column < columns; column++, at++, from++) {
        const level = profile[column] * grain[at] + noise[from];
        picture[at] = Math.max(0, Math.min(largest, level));
      }
    }
    return picture;
  };
}

/** What each pixel returns of the light. */
function grainOf(pixels: number, random: Random): Float32Array {
  return Float32Array.from({ length: pixels }, () => 1 + GRAIN * random.normal());
}
