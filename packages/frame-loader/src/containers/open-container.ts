import { basename } from "node:path";
import { openClip } from "../clips/clip.js";
import { clipForm } from "../clips/clip-form.js";
import { FrameLoadError } from "../frame-load-error.js";
import type { Container } from "../places/container.js";
import { PositionedFile } from "../places/positioned-file.js";
import { tiffForm } from "../places/tiff-numbers.js";
import { corrupt } from "../samples/frame-faults.js";
import { isNpy, openNpy } from "./npy.js";
import { openRaw, type RawLayout } from "./raw-frames.js";
import { openTiff } from "./tiff.js";
import { isY4m, openY4m } from "./y4m.js";

const HEAD_BYTES = 64;
/** Their numbers are kept in memory. */
const MOST_FRAMES = 2 ** 25;

/** Opens one file that holds frames; what it is is told by its content, never by its name.
 *  @param raw  how samples without a header lie in it; null: it has one
 *  @throws FrameLoadError; signal.reason */
export async function openContainer(
  path: string,
  raw: RawLayout | null,
  signal?: AbortSignal,
): Promise<Container> {
  const file = await PositionedFile.open(path);
  try {
    const container = await containerIn(file, path, raw, signal);
    if (container.count > MOST_FRAMES)
      throw corrupt(
        file.name,
        `holds ${container.count} frames, more than ${MOST_FRAMES}`,
        "check the size of a frame, or export it in parts",
      );
    return container;
  } catch (error) {
    await file.close();
    throw error;
  }
}

async function containerIn(
  file: PositionedFile,
  path: string,
  raw: RawLayout | null,
  signal: AbortSignal | undefined,
): Promise<Container> {
  if (file.size === 0) throw corrupt(file.name, "is empty (0 bytes)", "export it again");
  const head = await file.readUpTo(0, HEAD_BYTES);
  const form = tiffForm(head);
  const clip = clipForm(head);
  const known = form
    ? "a TIFF"
    : isNpy(head)
      ? "a NumPy array"
      : isY4m(head)
        ? "a YUV4MPEG2 file"
        : clip
          ? "a clip"
          : null;
  if (raw) {
    if (known)
      throw new FrameLoadError(
        "not-raw",
        `${file.name} is ${known}, which says itself how its samples lie: leave the layout of samples without a header out`,
        { file: file.name },
      );
    return openRaw(file, raw);
  }
  if (form) return openTiff(file, form);
  if (isNpy(head)) return openNpy(file);
  if (isY4m(head)) return openY4m(file);
  if (clip) return openClip(file, path, clip, signal);
  throw new FrameLoadError(
    "unknown-container",
    `${basename(path)} is none of the files of frames that are known (multi-page TIFF, NumPy array, YUV4MPEG2, a clip as MP4, MOV, AVI or MKV): give a folder of stills, or the layout of samples without a header`,
    { file: file.name },
  );
}
