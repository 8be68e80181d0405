import ndarray from "ndarray";
import sharp from "sharp";
import type { TakeFrames } from "../src/types.js";
import { seededNormal } from "./render-take.js";

/** An invented scene in which nothing runs, as a camera films it. */
export interface DryScene {
  readonly frames?: number;
  readonly rows?: number;
  readonly columns?: number;
  /** Standard deviation of the blur of the slanted edge in the middle, px; null: there is no edge. */
  readonly blur?: number | null;
  /** DN, of every pixel. Default 3. */
  readonly noise?: number;
  /** Whether each pixel has the noise of the nine about it, as after resampling. Default false. */
  readonly alike?: boolean;
  /** Brightness of a frame over the mean. Default 1. */
  readonly light?: (frame: number) => number;
  /** How far the picture lies to the right and down in a frame, px. */
  readonly shift?: (frame: number) => readonly [number, number];
  /** Added by a lamp in the picture's first 6 columns. */
  readonly lamp?: (frame: number) => number;
  /** Whether there is texture away from the edge. Default true. */
  readonly texture?: boolean;
  /** DN, of the darker side. */
  readonly level?: number;
  readonly seed?: number;
}

export const EDGE_SLANT_DEGREES = 6;

/** Frames in memory, 8 bits. */
export function dryTake({
  frames = 60,
  rows = 32,
  columns = 120,
  blur = 1.2,
  noise = 3,
  alike = false,
  light = () => 1,
  shift,
  lamp = () => 0,
  level = 70,
  texture: isTextured = true,
  seed = 1,
}: DryScene = {}): TakeFrames {
  const normal = seededNormal(seed);
  const numbers = Array.from({ length: frames }, (_, k) => k);
  const slant = (EDGE_SLANT_DEGREES * Math.PI) / 180;
  const scene = (x: number, y: number) => {
    const beyond = (x - columns / 2) * Math.cos(slant) + (y - rows / 2) * Math.sin(slant);
    const edge = blur === null ? 0 : 60 * distribution(beyond / Math.hypot(blur, Math.sqrt(1 / 12)));
    // Texture away from the edge alone.
    if (!isTextured) return level + edge;
    const clear = blur === null ? 1 : 1 - Math.exp(-((beyond / 25) ** 4));
    const texture =
      9 * Math.sin(0.41 * x + 0.3 * y) +
      7 * Math.sin(0.23 * x - 0.37 * y + 1) +
      6 * Math.sin(0.61 * x + 0.11 * y);
    return level + edge + clear * texture;
  };
  const seenAt = (dx: number, dy: number) =>
    Float64Array.from({ length: rows * columns }, (_, at) =>
      scene((at % columns) - dx, Math.floor(at / columns) - dy),
    );
  const still = shift ? null : seenAt(0, 0);
  const pictures = numbers.map((frame) => {
    const seen = still ?? seenAt(...shift!(frame));
    const [brightness, ofLamp] = [light(frame), lamp(frame)];
    const white = Float64Array.from(seen, normal);
    const noiseAt = (at: number) => {
      if (!alike) return white[at];
      const about = [-1, 0, 1].flatMap((row) => [-1, 0, 1].map((column) => at + row * columns + column));
      return about.reduce((sum, place) => sum + (white[place] ?? 0), 0) / 3;
    };
    const data = Uint8Array.from(seen, (value, at) => {
      const lit = brightness * value + (at % columns < 6 ? ofLamp : 0) + noise * noiseAt(at);
      return Math.max(0, Math.min(255, Math.round(lit)));
    });
    return ndarray(data, [rows, columns]);
  });
  const whole = { row: 0, column: 0, rows, columns };
  return {
    name: "dry",
    numbers,
    rows,
    columns,
    bitDepth: 8,
    async *frames({ start = 0, end = frames } = {}, { row, column, rows: height, columns: width } = whole) {
      for (let index = start; index < end; index++)
        yield {
          index,
          number: numbers[index],
          frame: pictures[index].hi(row + height, column + width).lo(row, column),
        };
    },
  };
}

/** A frame of a take as a still. */
export async function writeStill(file: string, take: TakeFrames, index = 0, quality = 60): Promise<string> {
  const { rows, columns } = take;
  for await (const { frame } of take.frames({ start: index, end: index + 1 })) {
    const data = Uint8Array.from({ length: rows * columns }, (_, at) =>
      frame.get(Math.floor(at / columns), at % columns),
    );
    const picture = sharp(data, { raw: { width: columns, height: rows, channels: 1 } }).toColourspace("b-w");
    await (file.endsWith(".jpg") ? picture.jpeg({ quality }) : picture.png()).toFile(file);
  }
  return file;
}

/** Normal distribution: Abramowitz and Stegun (1964), 7.1.26, good to 2e-7. */
function distribution(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = 0.5 * series * Math.exp(-x * x);
  return z > 0 ? 1 - tail : tail;
}
