import { open } from "node:fs/promises";
import { type Scene, sceneRenderer } from "./scene.js";
import { tiffDirectory, tiffHead } from "./tiff-pages.js";

export const containerFormats = ["npy", "y4m", "bigtiff", "raw"] as const;
export type ContainerFormat = (typeof containerFormats)[number];

/** What a file of frames holds: a scene, or a scene within a longer take. */
export interface ContainerContent {
  readonly scene: Scene;
  /** Frames in the file. Default: those of the scene. */
  readonly frames?: number;
  /** Index in the file of the scene's first frame. Default: 0. */
  readonly from?: number;
}

/** Writes one file that holds the frames of a scene, uncompressed. Samples of frames outside the scene are left out: the file has
 *  holes there, which read as zero and take no room where the file system allows.
 *  @returns the file */
export async function writeContainer(
  file: string,
  format: ContainerFormat,
  { scene, frames = scene.frames, from = 0 }: ContainerContent,
): Promise<string> {
  const frameBytes = scene.rows * scene.columns * (scene.bits / 8);
  const { head, frameHead } = form(format, scene, frames, frameBytes);
  const headBytes = frameHead?.(0, head.length).length ?? 0;
  const step = headBytes + frameBytes;
  const render = sceneRenderer(scene);
  const handle = await open(file, "wx");
  try {
    await handle.write(head, 0, head.length, 0);
    for (let frame = 0; frame < frames; frame++) {
      const isInScene = frame >= from && frame < from + scene.frames;
      const at = head.length + frame * step;
      if (frameHead) await handle.write(frameHead(frame, at), 0, headBytes, at);
      if (isInScene) {
        const picture = Buffer.from(render(frame - from).buffer);
        await handle.write(picture, 0, frameBytes, at + headBytes);
      }
    }
    await handle.truncate(head.length + frames * step);
  } finally {
    await handle.close();
  }
  return file;
}

interface Form {
  /** Before all frames. */
  readonly head: Buffer;
  /** Before each frame, always equally long. */
  readonly frameHead?: (frame: number, at: number) => Buffer;
}

function form(format: ContainerFormat, scene: Scene, frames: number, frameBytes: number): Form {
  const { rows, columns, bits } = scene;
  if (format === "raw") return { head: Buffer.alloc(0) };
  if (format === "npy") return { head: npyHead(scene, frames) };
  if (format === "y4m") {
    const frameHead = Buffer.from("FRAME\n");
    const colour = bits === 8 ? "mono" : "mono16";
    return {
      head: Buffer.from(`YUV4MPEG2 W${columns} H${rows} F25:1 C${colour}\n`),
      frameHead: () => frameHead,
    };
  }
  const page = { BYTES_PER_ELEMENT: bits / 8, byteLength: frameBytes };
  return {
    head: tiffHead(true),
    frameHead: (frame, at) => tiffDirectory(page, scene, at, { isBig: true, isLast: frame === frames - 1 }),
  };
}

/** @see NumPy Enhancement Proposal 1, "A simple file format for NumPy arrays" (2007) */
function npyHead({ rows, columns, bits }: Scene, frames: number): Buffer {
  const text = `{'descr': '${bits === 8 ? "|u1" : "<u2"}', 'fortran_order': False, 'shape': (${frames}, ${rows}, ${columns}), }`;
  const padded = `${text.padEnd(128 - 11)}\n`;
  const head = Buffer.alloc(10);
  head.write("\x93NUMPY\x01\x00", "latin1");
  head.writeUInt16LE(padded.length, 8);
  return Buffer.concat([head, Buffer.from(padded, "latin1")]);
}
