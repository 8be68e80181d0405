import { runProgram } from "./child-program.js";
import { type ClipForm, endsEarly } from "./clip-form.js";
import type { PositionedFile } from "./positioned-file.js";
import { corrupt } from "./read-header.js";

/** What ffmpeg and ffprobe are told of a clip before anything else. The arrangement is stated so that a file is never
 *  taken for a list of other files, and a name with `:` or a leading `-` is a name. */
export function clipInput(path: string, form: ClipForm): string[] {
  return ["-protocol_whitelist", "file", "-fflags", "+discardcorrupt", "-f", form, "-i", `file:${path}`];
}

/** The first stream of pictures of a clip, by ffprobe's names. */
export interface ClipStream {
  readonly codec_name?: string;
  readonly width?: number;
  readonly height?: number;
  readonly pix_fmt?: string;
  readonly field_order?: string;
  readonly color_range?: string;
  readonly time_base?: string;
  readonly avg_frame_rate?: string;
  readonly has_b_frames?: number;
  readonly nb_frames?: string;
}

/** The frames of a clip in the order in which they are shown. */
export interface ClipIndex {
  readonly count: number;
  /** Times in ticks of the stream's time base, strictly increasing; null where the clip states none for each frame:
   *  then frames are counted from the first. */
  readonly ticks: Float64Array | null;
  /** Times of the frames at which decoding may begin, in order. */
  readonly keyTicks: readonly number[];
  /** Frames or their parts that are there and not used, as the clip ends before others that come in between. */
  readonly isShort: boolean;
}

/** Whether a line of ffmpeg or ffprobe is on the arrangement of a clip, not on the decoding of its frames. */
export function isOfContainer(line: string): boolean {
  return /^\[(mov|avi|matroska)\b/.test(line);
}

/** Codecs that give one frame for every packet. */
const FRAME_PER_PACKET = new Set(
  "h264 hevc mjpeg ffv1 huffyuv ffvhuff utvideo magicyuv rawvideo v210 prores dnxhd png qtrle".split(" "),
);

/** Lists the frames of a clip, for codecs that give one frame for every packet without decoding them.
 *  @throws FrameLoadError `corrupt-frame` where there are none; signal.reason */
export async function clipIndex(
  file: PositionedFile,
  path: string,
  form: ClipForm,
  stream: ClipStream,
  signal: AbortSignal | undefined,
): Promise<ClipIndex> {
  const byPacket = FRAME_PER_PACKET.has(stream.codec_name ?? "");
  const entries = byPacket ? "packet=pts,dts,flags" : "frame=key_frame,best_effort_timestamp";
  const frames = { ticks: [] as number[], keys: [] as number[], lastDts: Number.NaN };
  let packets = 0;
  const onLine = (line: string): void => {
    const [first, second, flags] = line.split(",");
    if (first === "") return;
    packets += 1;
    if (byPacket) {
      if (second !== "N/A") frames.lastDts = Number(second);
      // Packets marked so are decoded and not shown: an edit list cuts them off.
      if (flags?.[1] === "D") return;
      if (flags?.[0] === "K") frames.keys.push(Number(first));
      frames.ticks.push(Number(first));
    } else {
      if (first === "1") frames.keys.push(Number(second));
      frames.ticks.push(Number(second));
    }
  };
  const { lastError, errors } = await runProgram(
    "ffprobe",
    [
      "-v",
      "error",
      "-select_streams",
      "V:0",
      "-show_entries",
      entries,
      "-of",
      "csv=p=0",
      ...clipInput(path, form),
    ],
    onLine,
    signal,
  );
  const promised = form === "mov" ? Number(stream.nb_frames ?? 0) : 0;
  const isShort = (await endsEarly(file, form)) || packets < promised;
  if (!isShort && errors.some(isOfContainer))
    throw corrupt(
      file.name,
      `is damaged, and frames may be missing between those that are left (${lastError})`,
      "copy or export it again",
    );
  const delay = stream.has_b_frames ?? 0;
  const isTimed = frames.ticks.every((tick) => !Number.isNaN(tick));
  const sorted = Float64Array.from(frames.ticks).sort();
  const isRising = isTimed && sorted.every((tick, i) => i === 0 || tick > sorted[i - 1]);
  let count = sorted.length;
  if (isShort) {
    // A frame that is missing is decoded behind the last that is there, and shown no earlier than it is decoded; and at
    // most `delay` frames that are decoded before it are shown behind it.
    count = Math.max(0, count - delay);
    if (isRising && delay > 0 && !Number.isNaN(frames.lastDts))
      while (count > 0 && sorted[count - 1] > frames.lastDts) count -= 1;
  }
  if (count === 0)
    throw corrupt(
      file.name,
      `does not hold one whole frame${lastError && ` (${lastError})`}`,
      "copy or export it again",
    );
  return {
    count,
    ticks: isRising ? sorted.subarray(0, count) : null,
    keyTicks: isRising ? frames.keys.sort((a, b) => a - b) : [],
    isShort,
  };
}
