import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

export const hasFfmpeg =
  spawnSync("ffmpeg", ["-version"]).status === 0 && spawnSync("ffprobe", ["-version"]).status === 0;

export const rows = 48;
export const columns = 62;
export const count = 40;

/** A folder for the clips of a test file; the caller removes it. */
export function clipFolder(): string {
  return mkdtempSync(join(tmpdir(), "clips-"));
}

/** Frames of a texture that moves by two columns a frame over a ramp that a step crosses: every frame differs from every
 *  other, and one can be predicted from those before and behind it. */
export function pattern(bits: number): (Uint8Array | Uint16Array)[] {
  let state = 20_261_127;
  const random = () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
  const texture = Array.from({ length: rows * (columns + 2 * count) }, random);
  return Array.from({ length: count }, (_, n) => {
    const samples = bits === 8 ? new Uint8Array(rows * columns) : new Uint16Array(rows * columns);
    for (let r = 0; r < rows; r++)
      for (let c = 0; c < columns; c++) {
        const grain = texture[r * (columns + 2 * count) + c + 2 * n];
        const step = c < n ? 0.4 : 0;
        samples[r * columns + c] = Math.floor((0.5 * grain + step + 0.1 * random()) * 2 ** bits);
      }
    return samples;
  });
}

/** The frames as ffmpeg reads them, with planes of even chroma behind each where the kind has such. */
export function rawVideo(frames: readonly (Uint8Array | Uint16Array)[], pixelFormat: string): Buffer {
  const bits = Number(/p(\d+)le/.exec(pixelFormat)?.[1] ?? 8);
  const chroma = pixelFormat.startsWith("yuv420") ? 2 * Math.ceil(rows / 2) * Math.ceil(columns / 2) : 0;
  const isWide = frames[0].BYTES_PER_ELEMENT === 2;
  const even = isWide ? new Uint16Array(chroma).fill(2 ** (bits - 1)) : new Uint8Array(chroma).fill(128);
  return Buffer.concat(
    frames
      .flatMap((frame) => [frame, even])
      .map(({ buffer, byteOffset, byteLength }) => Buffer.from(buffer, byteOffset, byteLength)),
  );
}

/** Encodes frames with these options; the last names the file. */
export function encode(
  folder: string,
  frames: readonly (Uint8Array | Uint16Array)[],
  pixelFormat: string,
  options: readonly string[],
): string {
  const raw = join(folder, "frames.raw");
  writeFileSync(raw, rawVideo(frames, pixelFormat));
  const input = [
    "-f",
    "rawvideo",
    "-pix_fmt",
    pixelFormat,
    "-s",
    `${columns}x${rows}`,
    "-r",
    "30",
    "-i",
    raw,
  ];
  return ffmpeg(folder, [...input, "-threads", "1", ...options]);
}

/** Runs ffmpeg in the folder; the last option names the file. */
export function ffmpeg(folder: string, options: readonly string[]): string {
  execFileSync("ffmpeg", ["-v", "error", "-y", ...options], { cwd: folder });
  return join(folder, options[options.length - 1].replace(/^file:/, ""));
}
