import { runProgram } from "./child-program.js";
import type { ClipForm } from "./clip-form.js";
import { type ClipStream, clipInput } from "./clip-index.js";
import { FrameLoadError } from "./frame-load-error.js";
import type { PositionedFile } from "./positioned-file.js";
import { corrupt } from "./read-header.js";

const ENTRIES =
  "stream=codec_name,width,height,pix_fmt,field_order,color_range,time_base,avg_frame_rate,has_b_frames,nb_frames:frame=interlaced_frame:program_version=version";

/** What a clip says of its pictures, and its first frame with it; the version of the program that says it.
 *  @throws FrameLoadError `corrupt-frame` where there is no stream of pictures, `unsupported-frame` where they are
 *    interlaced, `decoder-missing`; signal.reason */
export async function clipStream(
  file: PositionedFile,
  path: string,
  form: ClipForm,
  signal: AbortSignal | undefined,
): Promise<{ readonly stream: ClipStream; readonly version: string }> {
  let text = "";
  const { lastError } = await runProgram(
    "ffprobe",
    [
      ...["-v", "error", "-show_program_version", "-select_streams", "V:0", "-show_entries", ENTRIES],
      ...["-read_intervals", "%+#1", "-of", "json", ...clipInput(path, form)],
    ],
    (line) => {
      text += line;
    },
    signal,
  );
  const { streams = [], frames = [], program_version } = parsed(text);
  const why = lastError && ` (${lastError})`;
  const [stream] = streams;
  if (!stream?.pix_fmt || !stream.width || !stream.height)
    throw corrupt(file.name, `holds no pictures that ffprobe can read${why}`, "copy or export it again");
  const order = stream.field_order ?? "unknown";
  if (/^[tb][tb]$/.test(order) || frames[0]?.interlaced_frame === 1) throw interlaced(file.name);
  return { stream, version: program_version?.version ?? "" };
}

export function interlaced(name: string): FrameLoadError {
  return new FrameLoadError(
    "unsupported-frame",
    `${name} holds interlaced frames, two fields taken at different times in each: export progressive frames, or each field as a frame of its own`,
    { file: name },
  );
}

function parsed(text: string): {
  readonly streams?: readonly ClipStream[];
  readonly program_version?: { readonly version?: string };
  readonly frames?: readonly { readonly interlaced_frame?: number }[];
} {
  try {
    return JSON.parse(text);
  } catch {
    return {};
  }
}
