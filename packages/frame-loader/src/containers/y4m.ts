import { FrameLoadError } from "../frame-load-error.js";
import type { Container } from "../places/container.js";
import { plainFrames } from "../places/plain-frames.js";
import type { PositionedFile } from "../places/positioned-file.js";
import { checkSize, truncated } from "../places/whole-frames.js";
import { corrupt } from "../samples/frame-faults.js";
import { pixelAspect } from "../samples/pixel-aspect.js";
import { limitedRange, sampleRange } from "../samples/sample-range.js";

const MAGIC = "YUV4MPEG2";
const FRAME = "FRAME";
/** Bytes of a header line, at most. */
const LONGEST_LINE = 4096;
const LONGEST_FRAME_LINE = 512;
/** Frames that are walked from one to the next where their headers differ, at most. */
const MOST_WALKED = 1 << 20;

/** Samples of the other planes for a luma plane of the given size. */
const OTHER_PLANES: Readonly<Record<string, (rows: number, columns: number) => number>> = {
  mono: () => 0,
  "420": (rows, columns) => 2 * Math.ceil(rows / 2) * Math.ceil(columns / 2),
  "422": (rows, columns) => 2 * rows * Math.ceil(columns / 2),
  "411": (rows, columns) => 2 * rows * Math.ceil(columns / 4),
  "444": (rows, columns) => 2 * rows * columns,
  "444alpha": (rows, columns) => 3 * rows * columns,
};

export function isY4m(head: Buffer): boolean {
  return head.subarray(0, MAGIC.length + 1).toString("latin1") === `${MAGIC} `;
}

/** The luma of a YUV4MPEG2 file: `mono`, 420, 411, 422 or 444, 8 to 16 bits.
 *  @throws FrameLoadError `unsupported-frame` for interlaced frames or another arrangement of planes, `corrupt-frame`
 *  @see the MJPEG tools' manual page yuv4mpeg(5); the names of deeper samples are those that are in use (common
 *    practice, no source) */
export async function openY4m(file: PositionedFile): Promise<Container> {
  const { tags, dataAt } = await streamHeader(file);
  const [rows, columns] = ["H", "W"].map((tag) => {
    const text = tags.get(tag) ?? "";
    return /^\d+$/.test(text) ? Number(text) : Number.NaN;
  });
  checkSize(file.name, rows, columns);
  const interlace = tags.get("I") ?? "p";
  if (interlace !== "p" && interlace !== "?")
    throw unsupported(
      file.name,
      `holds interlaced frames (I${interlace}), two fields taken at different times in each`,
      "export progressive frames",
    );
  const { planes, bits } = arrangement(file.name, tags.get("C") ?? "420jpeg");
  const bitDepth = bits === 8 ? 8 : 16;
  const sampleBytes = bitDepth / 8;
  const frameBytes = (rows * columns + OTHER_PLANES[planes](rows, columns)) * sampleBytes;
  const isLimited = tags.get("XCOLORRANGE") === "LIMITED";
  const range = sampleRange(bits, isLimited);
  const header = await frameHeader(file, dataAt);
  const stride = header.length + frameBytes;
  const most = Math.floor((file.size - dataAt) / stride);
  const beginsAt = async (index: number) =>
    (await file.readUpTo(dataAt + index * stride, header.length)).equals(header);
  const isEven = most < 2 || ((await beginsAt(1)) && (await beginsAt(most - 1)));
  const places = isEven || most > MOST_WALKED ? null : await walkedPlaces(file, dataAt, frameBytes);
  const count = places?.length ?? most;
  const end = places ? places[count - 1] + frameBytes : dataAt + count * stride;
  if (count < 1)
    throw corrupt(
      file.name,
      `does not hold one whole frame of ${columns} x ${rows} pixels`,
      "export it again",
    );
  return plainFrames(file, {
    kind: { rows, columns, bitDepth, colour: false, range },
    count,
    warnings: [
      ...(isLimited ? [limitedRange(file.name, "states limited range", range)] : []),
      ...pixelAspect(file.name, tags.get("A")),
      ...truncated(file, count, null, end),
    ],
    bigEndian: false,
    async placeOf(index) {
      if (places) return places[index];
      const place = dataAt + index * stride;
      const found = await file.read(place, header.length);
      if (!found.equals(header))
        throw corrupt(
          file.name,
          `has no frame at byte ${place}, where frame ${index} should begin`,
          "it is damaged before that; export it again",
        );
      return place + header.length;
    },
  });
}

async function streamHeader(
  file: PositionedFile,
): Promise<{ readonly tags: ReadonlyMap<string, string>; readonly dataAt: number }> {
  const line = await lineAt(file, 0);
  const tags = new Map<string, string>();
  for (const word of line.slice(MAGIC.length).split(" "))
    if (word.startsWith("X")) tags.set(word.split("=")[0], word.split("=")[1] ?? "");
    else if (word !== "") tags.set(word[0], word.slice(1));
  return { tags, dataAt: line.length + 1 };
}

/** Where the samples of frames begin whose headers differ, from one to the next.
 *  @returns null where something else stands between two frames: the file is damaged there */
async function walkedPlaces(
  file: PositionedFile,
  dataAt: number,
  frameBytes: number,
): Promise<readonly number[] | null> {
  const places: number[] = [];
  for (let at = dataAt; at < file.size; at += frameBytes) {
    const line = /^FRAME(?: [^\n]*)?\n/.exec(
      (await file.readUpTo(at, LONGEST_FRAME_LINE)).toString("latin1"),
    );
    if (!line && at + LONGEST_FRAME_LINE < file.size) return null;
    if (!line || at + line[0].length + frameBytes > file.size) break;
    at += line[0].length;
    places.push(at);
  }
  return places;
}

/** What stands before the first frame, as a rule before all others, too. */
async function frameHeader(file: PositionedFile, at: number): Promise<Buffer> {
  const line = await lineAt(file, at);
  if (line !== FRAME && !line.startsWith(`${FRAME} `))
    throw corrupt(file.name, `has no frame behind its header, at byte ${at}`, "export it again");
  return Buffer.from(`${line}\n`, "latin1");
}

async function lineAt(file: PositionedFile, at: number): Promise<string> {
  const text = (await file.readUpTo(at, LONGEST_LINE)).toString("latin1");
  const end = text.indexOf("\n");
  if (end < 0) throw corrupt(file.name, `has a header at byte ${at} that does not end`, "export it again");
  return text.slice(0, end);
}

/** Which planes there are, and the bits of a sample. */
function arrangement(name: string, colour: string): { readonly planes: string; readonly bits: number } {
  const [, planes, depth] = /^(mono|420|422|411|444alpha|444)(?:p?(\d+))?/.exec(colour) ?? [];
  const bits = depth === undefined ? 8 : Number(depth);
  const isKnown =
    /^(mono(9|10|12|14|16)?|420(jpeg|mpeg2|paldv)?|422|411|444|444alpha|(420|422|444)p(9|10|12|14|16))$/;
  if (!isKnown.test(colour))
    throw unsupported(
      name,
      `holds planes arranged as C${colour}`,
      "export grey frames (mono, mono10, mono12, mono16)",
    );
  return { planes, bits };
}

function unsupported(name: string, what: string, advice: string): FrameLoadError {
  return new FrameLoadError("unsupported-frame", `${name} ${what}: ${advice}`, { file: name });
}
