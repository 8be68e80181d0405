import { FrameLoadError } from "../frame-load-error.js";
import type { PositionedFile } from "../places/positioned-file.js";
import { corrupt } from "../samples/frame-faults.js";
import { runProgram } from "./child-program.js";
import { type ClipForm, endsEarly } from "./clip-form.js";

/** What ffmpeg and ffprobe are told of a clip before anything else. The arrangement is stated so that a file is never
 *  taken for a list of other files, and a name with `:` or a leading `-` is a name. */
export function clipInput(path: string, form: ClipForm): string[] {
  return ["-protocol_whitelist", "file", "-fflags", "+discardcorrupt", "-f", form, "-i", `file:${path}`];
}

/** What ffprobe says of the first stream of pictures, by its own names, and of itself. */
export type ClipFacts = ReadonlyMap<string, string>;

/** The frames of a clip in the order in which they are shown. */
export interface ClipIndex {
  readonly count: number;
  /** Times in ticks of the stream's time base, strictly increasing; null where the clip states none for each frame:
   *  then frames are counted from the first. */
  readonly ticks: Float64Array | null;
  /** As the clip states them, in order, where it states one for each frame: some may be the same. */
  readonly statedTicks: Float64Array | null;
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
const FACTS =
  "stream=codec_name,width,height,pix_fmt,field_order,color_range,sample_aspect_ratio,time_base,avg_frame_rate,has_b_frames,nb_frames";

/** What is gathered from what ffprobe writes. */
interface Listing {
  readonly facts: Map<string, string>;
  readonly ticks: number[];
  readonly keyTicks: number[];
  lastDts: number;
  packets: number;
}

/** Lists the frames of a clip: packet by packet, without decoding, where its codec gives one frame for each.
 *  @throws FrameLoadError `corrupt-frame` where there are none or the clip is damaged between them, `unsupported-frame`
 *    where they are interlaced, `decoder-missing`; signal.reason */
export async function clipIndex(
  file: PositionedFile,
  path: string,
  form: ClipForm,
  signal: AbortSignal | undefined,
): Promise<{ readonly facts: ClipFacts; readonly index: ClipIndex }> {
  const probe = async (entries: string) => {
    const listing: Listing = { facts: new Map(), ticks: [], keyTicks: [], lastDts: Number.NaN, packets: 0 };
    const options = ["-v", "error", "-select_streams", "V:0", "-show_program_version", "-show_entries"];
    const args = [
      ...options,
      `program_version=version:${entries}`,
      "-of",
      "compact",
      ...clipInput(path, form),
    ];
    return { ...(await runProgram("ffprobe", args, (line) => addLine(listing, line), signal)), listing };
  };
  const { listing, lastError, errors } = await probe(`${FACTS}:packet=pts,dts,flags`);
  const { facts, packets } = listing;
  const why = lastError && ` (${lastError})`;
  if (!facts.has("pix_fmt"))
    throw corrupt(file.name, `holds no pictures that ffprobe can read${why}`, "copy or export it again");
  if (/^[tb][tb]$/.test(facts.get("field_order") ?? "")) throw interlaced(file.name);
  const promised = form === "mov" ? Number(facts.get("nb_frames") ?? Number.NaN) : 0;
  const isShort = (await endsEarly(file, form)) || packets < promised;
  if (!isShort && errors.some(isOfContainer))
    throw corrupt(
      file.name,
      `is damaged, and frames may be missing between those that are left${why}`,
      "copy or export it again",
    );
  const byPacket = FRAME_PER_PACKET.has(facts.get("codec_name") ?? "");
  const found = byPacket
    ? listing
    : (await probe("frame=key_frame,best_effort_timestamp,interlaced_frame")).listing;
  if (found.facts.get("interlaced_frame") === "1") throw interlaced(file.name);
  const index = inOrder(found, isShort, Number(facts.get("has_b_frames") ?? 0));
  if (index.count === 0)
    throw corrupt(file.name, `does not hold one whole frame${why}`, "copy or export it again");
  return { facts, index };
}

function addLine(listing: Listing, line: string): void {
  const [section, ...entries] = line.split("|");
  const fields = new Map(entries.map((entry) => entry.split("=", 2) as [string, string]));
  const number = (name: string) => Number(fields.get(name) ?? Number.NaN);
  if (section === "packet") {
    listing.packets += 1;
    if (!Number.isNaN(number("dts"))) listing.lastDts = number("dts");
    const flags = fields.get("flags") ?? "";
    // Packets marked so are decoded and not shown: an edit list cuts them off.
    if (flags[1] === "D") return;
    listing.ticks.push(number("pts"));
    if (flags[0] === "K") listing.keyTicks.push(number("pts"));
  } else if (section === "frame") {
    listing.ticks.push(number("best_effort_timestamp"));
    if (fields.get("key_frame") === "1") listing.keyTicks.push(number("best_effort_timestamp"));
    if (fields.get("interlaced_frame") === "1") listing.facts.set("interlaced_frame", "1");
  } else for (const [name, value] of fields) if (value !== "N/A") listing.facts.set(name, value);
}

/** @param delay  frames, at most, that are decoded before another and shown behind it */
function inOrder({ ticks, keyTicks, lastDts }: Listing, isShort: boolean, delay: number): ClipIndex {
  const sorted = Float64Array.from(ticks).sort();
  const isStated = !sorted.some(Number.isNaN);
  const isTimed = isStated && sorted.every((tick, i) => i === 0 || tick > sorted[i - 1]);
  let count = sorted.length;
  if (isShort) {
    // A frame that is missing is decoded behind the last that is there, and shown no earlier than it is decoded.
    count = Math.max(0, count - delay);
    if (isTimed && delay > 0 && !Number.isNaN(lastDts))
      while (count > 0 && sorted[count - 1] > lastDts) count -= 1;
  }
  return {
    count,
    ticks: isTimed ? sorted.subarray(0, count) : null,
    statedTicks: isStated ? sorted.subarray(0, count) : null,
    keyTicks: isTimed ? keyTicks.sort((a, b) => a - b) : [],
    isShort,
  };
}

/** The error for fields taken at different times. */
export function interlaced(name: string): FrameLoadError {
  return new FrameLoadError(
    "unsupported-frame",
    `${name} holds interlaced frames, two fields taken at different times in each: export progressive frames, or each field as a frame of its own`,
    { file: name },
  );
}
