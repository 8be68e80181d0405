import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { FrameLoadError } from "../frame-load-error.js";
import { ChildProgram } from "./child-program.js";

/** Pictures that become a clip. */
export interface ClipPictures {
  readonly rows: number;
  readonly columns: number;
  /** Of playback, > 0. */
  readonly framesPerSecond: number;
  /** 8-bit RGB, row-major, 3 · rows · columns bytes each; taken one by one. */
  readonly pictures: AsyncIterable<Uint8Array>;
  /** What the clip says of itself in its metadata. Default: nothing. */
  readonly comment?: string;
}

/** Threads of the encoder, which have a say in the bytes. */
const THREADS = "2";
/** Constant rate factor of H.264: smaller is better and larger; thin lines still stand sharp. Tried, no source. */
const QUALITY = "20";

/** Pictures as an MP4 clip (H.264, 4:2:0, no sound), through the program ffmpeg. Sides of odd length get a black pixel more, for 4:2:0 knows even ones only.
 *  The same pictures give the same bytes with the same build of ffmpeg.
 *  @throws FrameLoadError `encoder-missing` where ffmpeg is not on the PATH, `encoder-failed`; whatever `pictures` throws; signal.reason */
export async function encodeClip(clip: ClipPictures, signal?: AbortSignal): Promise<Uint8Array> {
  signal?.throwIfAborted();
  // MP4 is finished by writing into its beginning, which a pipe does not allow.
  const folder = await mkdtemp(join(tmpdir(), "frontpace-clip-"));
  try {
    const file = join(folder, "clip.mp4");
    await encodeTo(file, clip, signal);
    return new Uint8Array(await readFile(file));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function encodeTo(
  file: string,
  { rows, columns, framesPerSecond, pictures, comment }: ClipPictures,
  signal: AbortSignal | undefined,
): Promise<void> {
  const args = [
    ...["-hide_banner", "-nostats", "-loglevel", "error", "-y"],
    ...["-f", "rawvideo", "-pix_fmt", "rgb24", "-s", `${columns}x${rows}`],
    ...["-framerate", String(framesPerSecond), "-i", "pipe:0"],
    ...["-an", "-map_metadata", "-1", "-fflags", "+bitexact", "-flags:v", "+bitexact"],
    ...(comment === undefined ? [] : ["-metadata", `comment=${comment}`]),
    ...["-vf", "pad=ceil(iw/2)*2:ceil(ih/2)*2,scale=out_color_matrix=bt709:out_range=tv,format=yuv420p"],
    ...["-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709", "-color_range", "tv"],
    ...["-c:v", "libx264", "-crf", QUALITY, "-threads", THREADS, "-movflags", "+faststart", file],
  ];
  const child = new ChildProgram("ffmpeg", args, undefined, true);
  const onAbort = () => void child.kill();
  signal?.addEventListener("abort", onAbort, { once: true });
  try {
    for await (const picture of pictures) {
      if (child.hasGone) break;
      await child.write(picture);
      signal?.throwIfAborted();
    }
    child.endInput();
    child.output.resume();
    while (!child.ended) await child.news();
    signal?.throwIfAborted();
    const { reasonMissing, exitCode, errors } = child;
    if (reasonMissing)
      throw new FrameLoadError(
        "encoder-missing",
        `MP4 is written through the program ffmpeg, which could not be started (${reasonMissing.message}): install ffmpeg (on Debian and Ubuntu: apt install ffmpeg), and see that it is on the PATH`,
        { cause: reasonMissing },
      );
    if (exitCode !== 0)
      throw new FrameLoadError(
        "encoder-failed",
        `ffmpeg could not write MP4 (${errors[0] ?? `exit code ${exitCode}`}): it needs the encoder libx264, which is in most builds of ffmpeg`,
      );
  } finally {
    signal?.removeEventListener("abort", onAbort);
    await child.kill();
  }
}
