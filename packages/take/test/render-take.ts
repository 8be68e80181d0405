import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll } from "vitest";

export interface RenderedTake {
  readonly numbers: readonly number[];
  readonly rows?: number;
  readonly columns?: number;
  /** Column of the front in frame 0. */
  readonly start?: number;
  readonly pixelsPerFrame: number;
  /** Time of each frame, counted in frames. Default: its number. */
  readonly times?: readonly number[];
  /** px a frame² more or less. Default 0. */
  readonly acceleration?: number;
  /** Another front, which starts at column 0 in the frame `entered` and leaves the picture brighter again. */
  readonly second?: { readonly entered: number; readonly pixelsPerFrame: number };
  /** DN. Default 2. */
  readonly noise?: number;
  readonly seed?: number;
}

/** Writes an invented take: a smooth bright step that runs along the rows, with seeded noise, as 8-bit PNG. */
export async function renderTake(folder: string, take: RenderedTake): Promise<string> {
  const {
    numbers,
    rows = 16,
    columns = 96,
    start = 10,
    pixelsPerFrame,
    acceleration = 0,
    times = numbers,
    second,
    noise = 2,
    seed = 1,
  } = take;
  const normal = seededNormal(seed);
  await mkdir(folder, { recursive: true });
  for (const [k, number] of numbers.entries()) {
    const front = start + pixelsPerFrame * times[k] + (acceleration / 2) * times[k] ** 2;
    const samples = new Uint8Array(rows * columns);
    for (let i = 0; i < samples.length; i++) {
      const behind = step((i % columns) - front);
      const again = second ? step((i % columns) - second.pixelsPerFrame * (number - second.entered)) : 0;
      const value = 50 + 120 * behind + 60 * again + noise * normal();
      samples[i] = Math.round(Math.min(255, Math.max(0, value)));
    }
    const sign = number < 0 ? "-" : "";
    const name = `${sign}${String(Math.abs(number)).padStart(4, "0")}.png`;
    await sharp(samples, { raw: { width: columns, height: rows, channels: 1 } })
      .toColourspace("b-w")
      .png()
      .toFile(join(folder, name));
  }
  return folder;
}

/** 1 behind a smooth step, 0 ahead of it. */
export function step(ahead: number): number {
  return 0.5 * (1 - Math.tanh(ahead / 1.5));
}

/** Whole numbers from a to b. */
export function range(a: number, b: number): number[] {
  return Array.from({ length: b - a + 1 }, (_, i) => a + i);
}

/** A folder that is gone after the file's tests. */
export async function temporaryFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "frontpace-test-"));
  afterAll(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

/** Standard normal numbers, the same for the same seed. */
export function seededNormal(seed: number): () => number {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Two fronts that run towards each other over one path, the second from frame 11 on. */
export const TWO_FRONTS: RenderedTake = {
  numbers: range(0, 35),
  rows: 6,
  columns: 64,
  start: -6,
  pixelsPerFrame: 2.5,
  second: { entered: 11, pixelsPerFrame: 2.1 },
  noise: 6,
};
